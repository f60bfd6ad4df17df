import { readFileSync } from 'node:fs'
import { validateBytes } from 'gltf-validator'
import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { measureSolid } from '#geometry/solid/measure.ts'
import { parseJob } from '#model/parse.ts'
import { glbOf } from '#sheets/model3d/glbOf.ts'
import { jobOf } from '../checks/smallJob.ts'
import { hostileJob } from './hostileJob.ts'

const jobAt = (name: string) => {
  const read = parseJob(readFileSync(new URL(`../../fixtures/good/${name}.json`, import.meta.url), 'utf8'))
  if (!read.ok) throw new Error(name)
  return read.job
}

interface Gltf {
  nodes: { name: string, mesh?: number, extras?: Record<string, unknown>, translation?: number[] }[]
  meshes: { primitives: { attributes: { POSITION: number }, indices: number }[] }[]
  accessors: { bufferView: number, count: number }[]
  bufferViews: { byteOffset: number }[]
}

/** Read by the letter of the standard: 12 bytes, then the JSON chunk, then the numbers. */
function read(glb: Uint8Array): { json: Gltf, at: number, view: DataView } {
  const view = new DataView(glb.buffer, glb.byteOffset, glb.byteLength), length = view.getUint32(12, true)
  return { json: JSON.parse(new TextDecoder().decode(glb.subarray(20, 20 + length))) as Gltf, at: 28 + length, view }
}

/** mm3 of a closed surface: the sum of its tetrahedra */
function volumeOf({ json, at, view }: ReturnType<typeof read>, node: Gltf['nodes'][number]): number {
  const [{ attributes: { POSITION }, indices }] = json.meshes[node.mesh!].primitives
  const start = (accessor: number): number => at + json.bufferViews[json.accessors[accessor].bufferView].byteOffset
  const point = (i: number): number[] => [0, 1, 2].map((k) => view.getFloat32(start(POSITION) + 12 * view.getUint32(start(indices) + 4 * i, true) + 4 * k, true) * 1000)
  let sum = 0
  for (let i = 0; i < json.accessors[indices].count; i += 3) {
    const [a, b, c] = [point(i), point(i + 1), point(i + 2)]
    sum += a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0])
  }
  return sum / 6
}

describe('the model as glTF', () => {
  test.each(['canal-house', 'mill-on-two-levels'])('of %s has neither an error nor a warning of the standard\'s validator', async (name) => {
    const report = await validateBytes(glbOf(assemble(jobAt(name))), { maxIssues: 0 })
    expect(report.issues.messages.filter(({ severity }: { severity: number }) => severity < 2)).toEqual([])
    expect([report.issues.numErrors, report.issues.numWarnings]).toEqual([0, 0])
    expect(report.info.totalTriangleCount).toBeGreaterThan(1000)
  })
  test('of an empty job and of hostile names is as sound', async () => {
    for (const job of [jobOf({}), hostileJob()]) {
      const report = await validateBytes(glbOf(assemble(job)))
      expect([report.issues.numErrors, report.issues.numWarnings]).toEqual([0, 0])
    }
    expect(read(glbOf(assemble(hostileJob()))).json.nodes.map(({ name }) => name)).toContain('<script>document.title=\'hit\'</script>')
  })
  test('has every joist, body and run by its name with its sizes', () => {
    const job = jobAt('canal-house'), { json } = read(glbOf(assemble(job)))
    const nodes = new Map(json.nodes.map((node) => [node.name, node]))
    expect(nodes.get('joist J6')!.extras).toMatchObject({ id: 'J6', section: 'Open-web joist 304 x 97', lengthMm: 5655, depthMm: 304 })
    expect(nodes.get('Heat-recovery unit')!.extras).toMatchObject({ kind: 'unit', sizeMm: [900, 700, 920] })
    for (const { name, id } of job.runs) expect(nodes.get(name)!.extras).toMatchObject({ id, outerDiameterMm: expect.any(Number), lengthMm: expect.any(Number) })
  })
  test('stands where the job stands: the unit 900 x 920 x 700 about x 0.63, y 0.93, z -4.0 m, seen with y up', () => {
    const file = read(glbOf(assemble(jobAt('canal-house')))), [root] = file.json.nodes, unit = file.json.nodes.find(({ name }) => name === 'Heat-recovery unit')!
    const accessor = file.json.accessors[file.json.meshes[unit.mesh!].primitives[0].attributes.POSITION] as unknown as { min: number[], max: number[] }
    const [x, , z] = [0, 1, 2].map((k) => (accessor.min[k] + accessor.max[k]) / 2 + root.translation![k])
    expect([x, z]).toEqual([expect.closeTo(0.63, 6), expect.closeTo(-4, 6)])
    expect(accessor.min[1] + root.translation![1]).toBeCloseTo(0.47, 6)
  })
  test('has closed bodies as big as the solids that are checked', () => {
    const assembly = assemble(jobAt('mill-on-two-levels')), file = read(glbOf(assembly)), { solids, parts } = assembly
    const byName = new Map<string, number>()
    for (let i = 0; i < solids.count; i++) if (solids.kind[i] === 0) byName.set(`${parts.ownerIdOf(i)} ${parts.classOf(i)}`, (byName.get(`${parts.ownerIdOf(i)} ${parts.classOf(i)}`) ?? 0) + measureSolid(solids, i).volumeMm3)
    let compared = 0
    for (const node of file.json.nodes) {
      const expected = byName.get(`${String(node.extras?.['id'])} ${String(node.extras?.['class'])}`)
      if (expected === undefined || node.extras?.['class'] === 'unit' || node.extras?.['class'] === 'manifold' || node.extras?.['class'] === 'plenum' || node.extras?.['class'] === 'outdoor-terminal') continue
      expect(volumeOf(file, node) / expected).toBeCloseTo(1, 4)
      compared++
    }
    expect(compared).toBeGreaterThan(10)
  })
})
