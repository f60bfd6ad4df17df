/** The void in 3D for the client's file. Draws when something moved, never otherwise. Scene units are metres from the model's origin, z up. */
import {
  AmbientLight, BoxGeometry, BufferAttribute, BufferGeometry, Color, DirectionalLight, DoubleSide, FrontSide, Group, InstancedMesh, Matrix4, Mesh, MeshLambertMaterial, PerspectiveCamera, Plane,
  Quaternion, Raycaster, Scene, Vector2, Vector3, WebGLRenderer,
} from 'three'
import { OrbitControls } from 'three/addons/controls/OrbitControls.js'
import { AIR } from '#scene/air.ts'
import { PAPER, PLAIN_DUCT, PLASTERBOARD, colourOfClass, isFaint } from '#scene/palette.ts'
import type { ClientLayer, ClientMesh, ClientModel, ClientView } from '#sheets/client/clientModel.ts'

export interface Picture {
  readonly canvas: HTMLCanvasElement
  /** 0: the ceiling is in place; 1: lifted away */
  liftCeiling(ratio: number): void
  /** null picks none */
  pickRun(index: number | null): void
  lookFrom(view: ClientView): void
}

const MM = 1000
const TAPE = '#f4c531'
const FOV_DEG = 45
const LIFT_M = 1.2

/** @throws Error where the browser gives no 3D picture */
export function pictureOf(model: ClientModel, into: HTMLElement, picked: (index: number | null) => void): Picture {
  const renderer = new WebGLRenderer({ antialias: true })
  renderer.setPixelRatio(Math.min(window.devicePixelRatio, 2))
  renderer.setClearColor(PAPER)
  const canvas = renderer.domElement
  canvas.tabIndex = 0
  canvas.setAttribute('role', 'img')
  canvas.setAttribute('aria-label', `${model.name}: the ducts between the joists. Drag to turn, pinch or scroll to come nearer.`)
  into.append(canvas)
  const scene = new Scene(), camera = new PerspectiveCamera(FOV_DEG, 1, 0.02, 500)
  const sun = new DirectionalLight('#fff8ea', 1.9), sky = new DirectionalLight('#f4f6ff', 1.7)
  sun.position.set(-2, -3, 5)
  sky.position.set(3, 2, -4)
  scene.add(new AmbientLight('#ffffff', 1.25), sun, sky)

  const layers = new Map<string, Group>()
  for (const layer of model.layers) {
    const group = layerOf(layer)
    layers.set(layer.kind, group)
    scene.add(group)
  }
  const ceiling = layers.get('zone')
  const ducts = model.runs.map(({ air, mesh }) => new Mesh(geometryOf(mesh), new MeshLambertMaterial({ color: air in AIR ? AIR[air as keyof typeof AIR].colour : PLAIN_DUCT, side: DoubleSide })))
  const colours = ducts.map(({ material }) => material.color.clone())
  const ductGroup = new Group()
  ductGroup.add(...ducts)
  scene.add(ductGroup)
  layers.set('duct', ductGroup)

  let isWaiting = false
  const draw = (): void => {
    isWaiting = false
    renderer.render(scene, camera)
    canvas.dataset['drawn'] = String(Number(canvas.dataset['drawn'] ?? 0) + 1)
  }
  const redraw = (): void => {
    if (isWaiting) return
    isWaiting = true
    requestAnimationFrame(draw)
  }
  const controls = new OrbitControls(camera, canvas)
  controls.enableDamping = false
  controls.addEventListener('change', redraw)
  new ResizeObserver(() => {
    const { clientWidth, clientHeight } = into
    if (clientWidth === 0 || clientHeight === 0) return
    renderer.setSize(clientWidth, clientHeight, false)
    camera.aspect = clientWidth / clientHeight
    camera.updateProjectionMatrix()
    redraw()
  }).observe(into)

  let pressedAt: readonly [number, number] = [0, 0]
  canvas.addEventListener('pointerdown', ({ clientX, clientY }) => { pressedAt = [clientX, clientY] })
  canvas.addEventListener('click', ({ clientX, clientY }) => {
    if (Math.hypot(clientX - pressedAt[0], clientY - pressedAt[1]) > 6) return
    const { left, top, width, height } = canvas.getBoundingClientRect()
    const ray = new Raycaster()
    ray.setFromCamera(new Vector2((clientX - left) / width * 2 - 1, 1 - (clientY - top) / height * 2), camera)
    const hit = ray.intersectObjects(ducts)[0]
    picked(hit === undefined ? null : ducts.indexOf(hit.object as (typeof ducts)[number]))
  })

  const at = (xyz: readonly number[]): Vector3 => new Vector3(...[0, 1, 2].map((k) => (xyz[k] - model.originMm[k]) / MM))
  return {
    canvas,
    liftCeiling: (ratio) => {
      if (ceiling === undefined) return
      ceiling.position.z = ratio * LIFT_M
      ceiling.visible = ratio < 1
      for (const material of materialsOf(ceiling)) {
        material.opacity = 1 - ratio
        material.transparent = ratio > 0
        material.depthWrite = ratio === 0
        material.needsUpdate = true
      }
      redraw()
    },
    pickRun: (index) => {
      ducts.forEach(({ material }, i) => {
        const isOther = index !== null && i !== index
        material.color.copy(i === index ? new Color(TAPE) : colours[i])
        material.emissive.copy(i === index ? new Color('#5a4300') : new Color('#000000'))
        material.transparent = isOther
        material.opacity = isOther ? 0.35 : 1
        material.needsUpdate = true
      })
      redraw()
    },
    lookFrom: ({ eye, target, up, hidden, cut }) => {
      camera.up.set(up[0], up[1], up[2]).normalize()
      camera.position.copy(at(eye))
      controls.target.copy(at(target))
      for (const [kind, group] of layers) if (kind !== 'zone') group.visible = !hidden.includes(kind)
      if (ceiling !== undefined) ceiling.visible = !hidden.includes('zone') && materialsOf(ceiling)[0]?.opacity !== 0
      const towards = cut === null ? null : new Vector3(...cut.towards).normalize().negate()
      renderer.clippingPlanes = cut === null || towards === null ? [] : [new Plane(towards, -towards.dot(at(cut.at)))]
      controls.update()
      redraw()
    },
  }
}

function layerOf({ kind, boxes, mesh }: ClientLayer): Group {
  const group = new Group()
  const isThin = kind !== 'zone' && isFaint(kind as Parameters<typeof isFaint>[0])
  const material = new MeshLambertMaterial({
    color: kind === 'zone' ? PLASTERBOARD : colourOfClass(kind as Parameters<typeof colourOfClass>[0]), side: isThin ? FrontSide : DoubleSide, transparent: isThin, opacity: isThin ? 0.18 : 1, depthWrite: !isThin,
  })
  const numbers = new Float32Array(bytesOf(boxes).buffer)
  if (numbers.length > 0) {
    const instances = new InstancedMesh(new BoxGeometry(2, 2, 2), material, numbers.length / 10)
    const matrix = new Matrix4()
    for (let i = 0; i < instances.count; i++) {
      const [x, y, z, a, b, c, qx, qy, qz, qw] = numbers.subarray(10 * i, 10 * i + 10)
      matrix.compose(new Vector3(x / MM, y / MM, z / MM), new Quaternion(qx, qy, qz, qw), new Vector3(a / MM, b / MM, c / MM))
      instances.setMatrixAt(i, matrix)
    }
    group.add(instances)
  }
  if (mesh !== null) group.add(new Mesh(geometryOf(mesh), material))
  return group
}

function geometryOf({ positions, normals, indices }: ClientMesh): BufferGeometry {
  const geometry = new BufferGeometry()
  geometry.setAttribute('position', new BufferAttribute(new Float32Array(bytesOf(positions).buffer).map((value) => value / MM), 3))
  geometry.setAttribute('normal', new BufferAttribute(new Int8Array(bytesOf(normals).buffer), 3, true))
  geometry.setIndex(new BufferAttribute(new Uint32Array(bytesOf(indices).buffer), 1))
  return geometry
}

const materialsOf = (group: Group): MeshLambertMaterial[] => group.children.map((child) => (child as Mesh).material as MeshLambertMaterial)

const bytesOf = (text: string): Uint8Array<ArrayBuffer> => Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0))
