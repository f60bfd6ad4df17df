import { useThree } from '@react-three/fiber'
import { useEffect, useMemo } from 'react'
import { BufferGeometry, DoubleSide, MeshLambertMaterial } from 'three'
import type { Assembly } from '#assembly/assembly.ts'
import type { Ghosts } from './extras.ts'
import type { Frame } from './frame.ts'
import { toSceneLength } from './frame.ts'
import type { Drawable } from './Merged.tsx'
import { useDrawable } from './Merged.tsx'
import { mergedRuns } from './meshSpans.ts'
import { withoutEnds } from './withoutEnds.ts'

const FITS = '#3f4b52', FAILS = '#c2136b'

/** Runs at a trial size: the drawn tubes moved out along their own normals by the graphics card, so that a slider costs no geometry. Failing ones are hatched. */
export function GhostRuns({ ghosts: { runs: all, failing, growMm }, assembly, frame }: { readonly ghosts: Ghosts, readonly assembly: Assembly, readonly frame: Frame }) {
  const runs = useDrawable(everyRun, assembly, frame)
  const fits = useMemo(() => all.filter((run) => !failing.includes(run)), [all, failing])
  return (
    <>
      <Grown runs={runs} which={fits} growMm={growMm} colour={FITS} opacity={0.3} name="ghosts" />
      <Grown runs={runs} which={failing} growMm={growMm} colour={FAILS} opacity={0.8} name="failing-ghosts" hatched />
    </>
  )
}

const everyRun = (assembly: Assembly, frame: Frame) => mergedRuns(assembly, frame)

function Grown({ runs: { mesh, geometry }, which, growMm, colour, opacity, name, hatched = false }: {
  readonly runs: Drawable, readonly which: readonly number[], readonly growMm: number, readonly colour: string, readonly opacity: number
  readonly name: string, readonly hatched?: boolean
}) {
  const part = useMemo(() => {
    const made = new BufferGeometry()
    for (const attribute of ['position', 'normal']) made.setAttribute(attribute, geometry.getAttribute(attribute))
    made.setIndex(withoutEnds(mesh, which))
    return made
  }, [mesh, geometry, which])
  useEffect(() => () => { part.dispose() }, [part])
  const { material, grown } = useMemo(() => {
    const grown = { value: 0 }
    const material = new MeshLambertMaterial({ color: colour, transparent: true, opacity, depthWrite: false, side: DoubleSide, forceSinglePass: true })
    material.onBeforeCompile = (shader) => {
      shader.uniforms.grownBy = grown
      shader.vertexShader = `uniform float grownBy;\n${shader.vertexShader}`.replace('#include <begin_vertex>', '#include <begin_vertex>\n  transformed += objectNormal * grownBy;')
      if (hatched) shader.fragmentShader = shader.fragmentShader.replace('void main() {', 'void main() {\n  if (mod(gl_FragCoord.x + gl_FragCoord.y, 13.0) < 6.5) discard;')
    }
    material.customProgramCacheKey = () => `grown ${hatched}`
    return { material, grown }
  }, [colour, opacity, hatched])
  useEffect(() => () => { material.dispose() }, [material])
  const invalidate = useThree((state) => state.invalidate)
  useEffect(() => {
    grown.value = toSceneLength(growMm / 2)
    invalidate()
  }, [grown, growMm, invalidate])
  if (part.getIndex()?.count === 0) return null
  return <mesh geometry={part} material={material} name={name} renderOrder={3} dispose={null} />
}
