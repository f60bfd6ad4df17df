import { useThree } from '@react-three/fiber'
import { useEffect, useMemo, useRef } from 'react'
import {
  BufferAttribute, BufferGeometry, DoubleSide, Group, InstancedBufferAttribute, InstancedMesh, LineSegments, Mesh, MeshBasicMaterial, MeshLambertMaterial,
} from 'three'
import type { Material, WebGLProgram, WebGLRenderer } from 'three'
import { atRest } from './atRest.ts'
import type { VoidMaterials } from './materials.ts'
import { PENCIL } from './palette.ts'
import { WideLine } from './WideLine.tsx'

/** how long the graphics card is left alone first, ms: the first picture, and the flight to it, go before */
const AFTER_MS = 400
const POINTS = [[0, 0, 0], [0, 0, 1]] as const

/**
 * Makes the ways of drawing that the first picture does without, before they are asked for and without a wait: a browser that draws by
 * software takes seconds to make some of them, and stands still while it does. Never drawn itself; while it is there none of them is thrown away.
 */
export function WarmUp({ materials }: { readonly materials: VoidMaterials }) {
  const get = useThree((state) => state.get)
  const lines = useRef<Group>(null)
  const samples = useMemo(() => samplesOf(materials), [materials])
  useEffect(() => {
    let isWanted = true
    const timer = setTimeout(() => {
      const { gl, scene, camera } = get()
      const make = async (): Promise<void> => {
        for (const group of [samples.group, lines.current]) {
          if (group === null || !isWanted) continue
          await gl.compileAsync(group, camera, scene)
          for (const material of materialsIn(group)) {
            await atRest(gl.getContext() as WebGL2RenderingContext)
            if (isWanted) takeUp(gl, material)
          }
        }
      }
      void make()
    }, AFTER_MS)
    return () => {
      isWanted = false
      clearTimeout(timer)
    }
  }, [samples, get])
  useEffect(() => () => { samples.dispose() }, [samples])
  return (
    <group visible={false} name="warm-up">
      <primitive object={samples.group} dispose={null} />
      <group ref={lines}><WideLine points={POINTS} widthPx={4} colour={PENCIL} renderOrder={0} /></group>
    </group>
  )
}

/** One of each: with colours per instance, per corner, and lines. */
function samplesOf(materials: VoidMaterials): { readonly group: Group, readonly dispose: () => void } {
  const form = new BufferGeometry()
  for (const name of ['position', 'normal', 'color']) form.setAttribute(name, new BufferAttribute(new Float32Array(9), 3))
  const group = new Group(), own: Material[] = [], instanced: InstancedMesh[] = []
  for (const material of [materials.boxes, materials.fadedBoxes, materials.thinBoxes, materials.fadedThinBoxes]) {
    const mesh = new InstancedMesh(form, material, 1)
    mesh.instanceColor = new InstancedBufferAttribute(new Float32Array(3), 3)
    instanced.push(mesh)
    group.add(mesh)
  }
  for (const material of [materials.merged, materials.fadedMerged, materials.thinMerged, materials.fadedThinMerged]) group.add(new Mesh(form, material))
  for (const material of [materials.pencil, materials.fadedPencil]) group.add(new LineSegments(form, material))
  // sawn faces, tinted openings, rings and handles, a run in hand, ghosts
  own.push(
    new MeshBasicMaterial({ vertexColors: true, side: DoubleSide }),
    new MeshBasicMaterial({ vertexColors: true, side: DoubleSide, transparent: true, depthWrite: false, forceSinglePass: true }),
    new MeshBasicMaterial({ transparent: true, depthTest: false }),
    new MeshLambertMaterial({ transparent: true, depthTest: false, depthWrite: false, side: DoubleSide, forceSinglePass: true }),
  )
  for (const material of own) group.add(new Mesh(form, material))
  return {
    group,
    dispose() {
      form.dispose()
      for (const mesh of instanced) mesh.dispose()
      for (const material of own) material.dispose()
    },
  }
}

function materialsIn(group: Group): Set<Material> {
  const found = new Set<Material>()
  group.traverse((thing) => { if (thing instanceof Mesh || thing instanceof LineSegments) found.add(thing.material as Material) })
  return found
}

/** Has the names of a program's inputs read now, while the graphics card has nothing else to do: their first use would wait for all that was asked of it before. */
function takeUp(gl: WebGLRenderer, material: Material): void {
  const { currentProgram } = gl.properties.get(material) as { currentProgram?: WebGLProgram }
  currentProgram?.getUniforms()
  currentProgram?.getAttributes()
}
