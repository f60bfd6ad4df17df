import { useThree } from '@react-three/fiber'
import { useEffect, useMemo } from 'react'
import { BufferAttribute, BufferGeometry, CanvasTexture, LinearFilter, ShaderMaterial, SRGBColorSpace } from 'three'
import type { Xyz } from './frame.ts'
import { toScene } from './frame.ts'
import { PENCIL, SEVERITY_COLOURS, TAPE } from './palette.ts'
import { useSceneFrame } from './sceneFrame.ts'

/** 'ring': a free spigot to start or end at; 'rings': several of them in one place; 'point': of a run; 'held': the one in hand; 'fault': what is wrong with what is being laid; 'gate': an opening that its old course passes. */
export type SpotShape = 'ring' | 'rings' | 'point' | 'held' | 'fault' | 'gate'
export interface Spot {
  readonly at: Xyz
  readonly shape: SpotShape
  /** written in a point, two letters at most */
  readonly words?: string
}

const CELL = 64
/** so many cells fit in one row on every graphics card: 4096 px */
const MOST_CELLS = 64
/** CSS px */
const SIZES: Record<SpotShape, number> = { ring: 34, rings: 44, point: 32, held: 40, fault: 34, gate: 24 }

function drawShape(pen: CanvasRenderingContext2D, shape: SpotShape, words: string): void {
  pen.setLineDash([])
  pen.lineWidth = 8
  pen.strokeStyle = PENCIL
  pen.beginPath()
  if (shape === 'ring') {
    pen.arc(32, 32, 22, 0, 2 * Math.PI)
    pen.lineWidth = 16
    pen.stroke()
    pen.lineWidth = 8
    pen.strokeStyle = TAPE
    pen.stroke()
    return
  }
  if (shape === 'gate') {
    pen.arc(32, 32, 20, 0, 2 * Math.PI)
    pen.fillStyle = '#ffffff'
    pen.fill()
    pen.setLineDash([12, 8])
    pen.stroke()
    return
  }
  if (shape === 'rings') {
    pen.arc(32, 32, 26, 0, 2 * Math.PI)
    pen.fillStyle = TAPE
  } else if (shape === 'fault') {
    for (const [x, y] of [[32, 6], [58, 32], [32, 58], [6, 32]]) pen.lineTo(x, y)
    pen.closePath()
    pen.fillStyle = SEVERITY_COLOURS.stop
    pen.strokeStyle = '#ffffff'
  } else {
    pen.roundRect(8, 8, 48, 48, 6)
    pen.fillStyle = shape === 'held' ? TAPE : '#ffffff'
  }
  pen.fill()
  pen.stroke()
  if (words === '') return
  pen.font = `bold ${words.length > 1 ? 32 : 36}px sans-serif`
  pen.textAlign = 'center'
  pen.textBaseline = 'middle'
  pen.fillStyle = PENCIL
  pen.fillText(words, 32, 34)
}

function cellOf({ shape, words = '' }: Spot): string {
  return `${shape} ${words}`
}

/** Places to take hold of, the same size however far off, never hidden by what stands in front: all in one draw. */
export function Spots({ spots }: { readonly spots: readonly Spot[] }) {
  const { frame } = useSceneFrame()
  const dpr = useThree((state) => state.viewport.dpr)
  // what is written stays while things move: the picture of the spots is made anew only when it changes
  const cellsKey = [...new Set(spots.map(cellOf))].slice(0, MOST_CELLS).join('\n')
  const cells = useMemo(() => cellsKey.split('\n'), [cellsKey])
  const texture = useMemo(() => {
    const canvas = document.createElement('canvas')
    canvas.width = CELL * cells.length
    canvas.height = CELL
    const pen = canvas.getContext('2d')!
    cells.forEach((cell, i) => {
      const [shape, words = ''] = cell.split(' ')
      pen.setTransform(1, 0, 0, 1, i * CELL, 0)
      drawShape(pen, shape as SpotShape, words)
    })
    const made = new CanvasTexture(canvas)
    made.colorSpace = SRGBColorSpace
    made.minFilter = LinearFilter
    made.generateMipmaps = false
    return made
  }, [cells])
  const material = useMemo(() => new ShaderMaterial({
    uniforms: { shapes: { value: texture }, cells: { value: texture.image.width / CELL } },
    vertexShader: `
      attribute float cell;
      attribute float sizePx;
      varying float vCell;
      void main() {
        gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
        gl_PointSize = sizePx;
        vCell = cell;
      }`,
    fragmentShader: `
      uniform sampler2D shapes;
      uniform float cells;
      varying float vCell;
      void main() {
        vec4 ink = texture2D(shapes, vec2((vCell + gl_PointCoord.x) / cells, 1.0 - gl_PointCoord.y));
        if (ink.a < 0.02) discard;
        gl_FragColor = ink;
        #include <colorspace_fragment>
      }`,
    transparent: true, depthTest: false, depthWrite: false,
  }), [texture])
  useEffect(() => () => {
    texture.dispose()
    material.dispose()
  }, [texture, material])
  const geometry = useMemo(() => {
    const made = new BufferGeometry()
    made.setAttribute('position', new BufferAttribute(Float32Array.from(spots.flatMap(({ at }) => toScene(frame, ...at))), 3))
    made.setAttribute('cell', new BufferAttribute(Float32Array.from(spots, (spot) => Math.max(0, cells.indexOf(cellOf(spot)))), 1))
    made.setAttribute('sizePx', new BufferAttribute(Float32Array.from(spots, ({ shape }) => SIZES[shape] * dpr), 1))
    return made
  }, [spots, cells, frame, dpr])
  useEffect(() => () => { geometry.dispose() }, [geometry])
  if (spots.length === 0) return null
  return <points geometry={geometry} material={material} renderOrder={11} frustumCulled={false} dispose={null} name="spots" />
}
