/** What a solid is; clearances are required by pairs of these. On its own, so that a view can name classes without carrying the reader of files. */
export const CLASSES = [
  'duct', 'chord', 'web', 'joist', 'beam', 'trimmer', 'noggin', 'strongback', 'steel', 'wall', 'slab', 'lining', 'insulation',
  'pipe', 'soil-stack', 'cable', 'downlight', 'keep-out', 'flue', 'unit', 'manifold', 'plenum', 'outdoor-terminal', 'sleeve', 'other',
] as const
