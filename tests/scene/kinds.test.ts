import { describe, expect, test } from 'vitest'
import { boxChunksOf } from '#scene/boxInstances.ts'
import { frameOf } from '#scene/frame.ts'
import { AS_USUAL, drawingWith, kindsIn } from '#scene/kinds.ts'
import { mergedRuns, mergedShapes, mergedThinShapes } from '#scene/meshSpans.ts'
import { withoutEnds } from '#scene/withoutEnds.ts'
import { smallVoid } from './smallVoid.ts'

describe('kinds of things in the picture', () => {
  const assembly = smallVoid(), frame = frameOf(assembly)

  test('three joists have six chords, one run is one duct, and a manifold is one with its body and its collars', () => {
    const counts = new Map(kindsIn(assembly).map(({ kind, count }) => [kind, count]))
    expect(counts.get('chord')).toBe(6)
    expect(counts.get('duct')).toBe(1)
    expect(counts.get('zone')).toBe(1)
    expect(counts.get('manifold')).toBe(1)
    expect(counts.get('plenum')).toBe(1)
    const webs = Array.from({ length: assembly.solids.count }, (_, i) => assembly.parts.classOf(i)).filter((kind) => kind === 'web').length
    expect(webs).toBeGreaterThan(20)
    expect(counts.get('web')).toBe(webs)
  })

  test('a hidden kind is in no chunk, a faint one moves to the thin chunks, and the rest stays as it was', () => {
    const boxes = (faint: boolean, drawing = AS_USUAL) => boxChunksOf(assembly, frame, faint, drawing).flatMap(({ solidIndices }) => [...solidIndices]).map((i) => assembly.parts.classOf(i))
    const usual = boxes(false), drawing = drawingWith(new Set(['web']), new Set(['chord']))
    expect(usual).toContain('web')
    expect(boxes(false, drawing)).toEqual(usual.filter((kind) => kind !== 'web' && kind !== 'chord'))
    expect(boxes(true, drawing)).toEqual(expect.arrayContaining(['chord', 'chord']))
    expect(boxes(true, drawing)).not.toContain('web')
  })

  test('a soil stack that is made faint moves from the solid shapes to the thin ones, and a wall can be hidden', () => {
    const kindsOf = (spans: readonly { readonly index: number }[]) => spans.map(({ index }) => assembly.parts.classOf(index))
    const drawing = drawingWith(new Set(['wall']), new Set(['soil-stack']))
    expect(kindsOf(mergedShapes(assembly, frame).spans)).toContain('soil-stack')
    expect(kindsOf(mergedShapes(assembly, frame, drawing).spans)).not.toContain('soil-stack')
    expect(kindsOf(mergedThinShapes(assembly, frame).spans)).toContain('wall')
    expect(kindsOf(mergedThinShapes(assembly, frame, drawing).spans)).toEqual(['soil-stack'])
  })

  test('a ghost of a run has the sides of its tube and not its flat ends', () => {
    const mesh = mergedRuns(assembly, frame), sides = withoutEnds(mesh, [0])
    expect(sides.length).toBeGreaterThan(0)
    expect(sides.length).toBeLessThan(mesh.indices.length)
    // Run 1 goes along y: sides look away from it, ends along it
    for (const corner of sides) expect(Math.abs(mesh.normals[3 * corner + 1])).toBeLessThan(1e-6)
    expect(withoutEnds(mesh, [])).toEqual([])
  })
})
