import { useFrame, useThree } from '@react-three/fiber'
import { useEffect, useLayoutEffect, useMemo, useRef } from 'react'
import { BufferAttribute, BufferGeometry, DoubleSide, Plane, Quaternion, Vector2, Vector3 } from 'three'
import type { Group } from 'three'
import type { Assembly } from '#assembly/assembly.ts'
import type { Cut } from './cutAway.ts'
import { handleOf, planeOutline } from './cutAway.ts'
import { cutFacesOf } from './cutFaces.ts'
import type { Frame } from './frame.ts'
import { toScene } from './frame.ts'
import type { Drawing } from './kinds.ts'
import { PENCIL } from './palette.ts'
import { pxToMetre } from './nearness.ts'

const NO_PLANES: Plane[] = []
/** half the length of the handle on the screen, CSS px: a fingertip can hold it */
const HANDLE_PX = 30

/** Leaves out of the picture what lies beyond a plane, shows what the plane goes through as sawn faces, with a double arrow to drag it by. */
export function CutAway({ cut, assembly, frame, drawing }: {
  readonly cut: Cut | null, readonly assembly: Assembly, readonly frame: Frame, readonly drawing: Drawing
}) {
  const gl = useThree((state) => state.gl)
  const invalidate = useThree((state) => state.invalidate)
  useLayoutEffect(() => {
    if (cut === null) return
    const [nx, ny, nz] = cut.towards
    const plane = new Plane().setFromNormalAndCoplanarPoint(new Vector3(-nx, -ny, -nz), new Vector3(...toScene(frame, ...cut.at)))
    gl.clippingPlanes = [plane]
    invalidate()
    return () => {
      gl.clippingPlanes = NO_PLANES
      invalidate()
    }
  }, [cut, frame, gl, invalidate])
  if (cut === null) return null
  return (
    <>
      <SawnFaces cut={cut} assembly={assembly} frame={frame} drawing={drawing} />
      <PlaneOutline cut={cut} frame={frame} />
    </>
  )
}

function SawnFaces({ cut, assembly, frame, drawing }: { readonly cut: Cut, readonly assembly: Assembly, readonly frame: Frame, readonly drawing: Drawing }) {
  const geometry = useMemo(() => {
    const { positions, colours, indices } = cutFacesOf(assembly, frame, cut, drawing)
    const made = new BufferGeometry()
    made.setAttribute('position', new BufferAttribute(positions, 3))
    made.setAttribute('color', new BufferAttribute(colours, 3))
    made.setIndex(new BufferAttribute(indices, 1))
    return made
  }, [cut, assembly, frame, drawing])
  useEffect(() => () => { geometry.dispose() }, [geometry])
  if (geometry.getIndex()?.count === 0) return null
  return (
    <mesh geometry={geometry} name="sawn-faces" frustumCulled={false} dispose={null}>
      <meshBasicMaterial vertexColors side={DoubleSide} />
    </mesh>
  )
}

function PlaneOutline({ cut, frame }: { readonly cut: Cut, readonly frame: Frame }) {
  const handle = useRef<Group>(null)
  const { outline, corner } = useMemo(() => {
    const points = planeOutline(cut, frame.boundsMm)
    const made = new BufferGeometry()
    made.setAttribute('position', new BufferAttribute(Float32Array.from(points.flatMap((point) => toScene(frame, ...point))), 3))
    return { outline: made, corner: handleOf(points) }
  }, [cut, frame])
  useEffect(() => () => { outline.dispose() }, [outline])
  const turn = useMemo(() => new Quaternion().setFromUnitVectors(new Vector3(0, 1, 0), new Vector3(...cut.towards)), [cut.towards])
  useFrame((state) => {
    const px = pxToMetre(state)
    if (handle.current !== null && px > 0) handle.current.scale.setScalar(HANDLE_PX / px)
  })
  return (
    <>
      <lineLoop geometry={outline} name="cut-outline" frustumCulled={false} dispose={null}>
        <lineBasicMaterial color={PENCIL} />
      </lineLoop>
      {corner !== null && (
        <group ref={handle} position={toScene(frame, ...corner)} quaternion={turn} name="cut-handle">
          <mesh renderOrder={12} frustumCulled={false}>
            <latheGeometry args={[DOUBLE_ARROW, 16]} />
            <shaderMaterial vertexShader={PLAIN_VERTEX} fragmentShader={PLAIN_FRAGMENT} depthTest={false} transparent />
          </mesh>
        </group>
      )}
    </>
  )
}

/** a double arrow, turned about its length: radius and place along it, 1 is half its length */
const DOUBLE_ARROW = [[0, -1], [0.42, -0.35], [0.17, -0.35], [0.17, 0.35], [0.42, 0.35], [0, 1]].map(([radius, along]) => new Vector2(radius, along))
// its own, because the cut leaves such materials whole; pencil at the tips, tape yellow between
const PLAIN_VERTEX = `
  varying float vAlong;
  void main() {
    vAlong = position.y;
    gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
  }`
const PLAIN_FRAGMENT = `
  varying float vAlong;
  void main() {
    gl_FragColor = vec4(abs(vAlong) > 0.34 ? vec3(0.024, 0.02, 0.017) : vec3(0.905, 0.552, 0.031), 1.0);
    #include <colorspace_fragment>
  }`
