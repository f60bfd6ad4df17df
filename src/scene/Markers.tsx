import { useFrame, useThree } from '@react-three/fiber'
import type { RootState } from '@react-three/fiber'
import { useEffect, useMemo } from 'react'
import { BufferAttribute, BufferGeometry, CanvasTexture, LinearFilter, ShaderMaterial, SRGBColorSpace, Vector2, Vector3 } from 'three'
import type { Camera } from 'three'
import type { Finding, Severity } from '#checks/finding.ts'
import type { Frame } from './frame.ts'
import { toScene } from './frame.ts'
import { pxToMetre } from './nearness.ts'
import { groupMarks, moreStep } from './groupMarks.ts'
import { CELLS_ACROSS, cellOf, cellOfMore, drawAtlas } from './markerAtlas.ts'

/** Size on the screen, CSS px: near enough to a fingertip to be seen at arm's length. */
const MARK_PX = 34
const CHOSEN_PX = 54
/** in a picture narrower than this they are smaller, so that they don't hide one another */
const NARROW_PX = 500
const NARROW_SHRINK = 0.8
/** many of them stand smaller from afar, and grow to their full size as the camera comes near */
const MANY = 40
const FAR_SHRINK = 0.5
/** CSS px that a metre takes where they are at full size */
const NEAR_PX_TO_METRE = 200

/** of the badge, CSS px before it shrinks with its mark */
const BADGE_PX = 26
/** marks whose middles are nearer than this part of their size cover one another */
const APART = 0.9

/** How much marks shrink from afar. */
export function grownAt(state: Pick<RootState, 'camera' | 'controls' | 'size'>, count: number): number {
  return Math.max(count > MANY ? FAR_SHRINK : 1, Math.min(1, pxToMetre(state) / NEAR_PX_TO_METRE))
}

/** CSS px within which marks are drawn as one. */
export function apartPx(grown: number, isNarrow: boolean): number {
  return MARK_PX * (isNarrow ? NARROW_SHRINK : 1) * grown * APART
}

export const isNarrowPicture = (widthPx: number): boolean => widthPx < NARROW_PX

/** Those that are shown: the one that is picked out first, then as in the list, the worst first. */
export function marksInOrder(findings: readonly Finding[], shown: ReadonlySet<string>, chosenId: string | null): number[] {
  const order = findings.flatMap(({ id }, i) => shown.has(id) && id !== chosenId ? [i] : [])
  const chosen = findings.findIndex(({ id }) => id === chosenId)
  return chosen < 0 ? order : [chosen, ...order]
}

const spot = new Vector3()

/** CSS px of each finding's touching point, two numbers each; NaN for what is behind the eye. */
export function marksOnScreen(findings: readonly Finding[], frame: Frame, camera: Camera, width: number, height: number): Float64Array {
  const out = new Float64Array(2 * findings.length)
  camera.updateMatrixWorld()
  findings.forEach(({ mark }, i) => {
    spot.set(...toScene(frame, mark.x, mark.y, mark.z)).project(camera)
    out[2 * i] = spot.z > 1 ? NaN : (spot.x + 1) / 2 * width
    out[2 * i + 1] = (1 - spot.y) / 2 * height
  })
  return out
}

/** scene x, y, z of each finding's touching point */
export function markerPositions(findings: readonly Finding[], frame: Frame): Float32Array {
  return Float32Array.from(findings.flatMap(({ mark }) => toScene(frame, mark.x, mark.y, mark.z)))
}

/**
 * Findings as numbered shapes exactly on their touching points, never hidden by what stands in front, all in one draw.
 * Numbers are places in the whole list, so that they stay the same when the list is filtered.
 */
export function Markers({ findings, shown, chosenId, frame }: {
  readonly findings: readonly Finding[]
  readonly shown: ReadonlySet<string>
  readonly chosenId: string | null
  readonly frame: Frame
}) {
  const dpr = useThree((state) => state.viewport.dpr)
  const isNarrow = useThree((state) => isNarrowPicture(state.size.width))
  // the same pictures serve for as long as the list has the same severities in the same places, as in most steps of a drag
  const severities = findings.map(({ severity }) => severity).join(' ')
  const texture = useMemo(() => {
    const canvas = document.createElement('canvas')
    drawAtlas(canvas, severities === '' ? [] : severities.split(' ') as Severity[])
    const made = new CanvasTexture(canvas)
    made.colorSpace = SRGBColorSpace
    made.minFilter = LinearFilter
    made.generateMipmaps = false
    return made
  }, [severities])
  useEffect(() => () => { texture.dispose() }, [texture])

  const chosen = findings.findIndex(({ id }) => id === chosenId)
  const sizePxOf = (i: number): number => (i === chosen ? CHOSEN_PX : MARK_PX) * (isNarrow ? NARROW_SHRINK : 1)
  // each finding twice: its mark, and the badge that says how many lie under it
  const geometry = useMemo(() => {
    const count = findings.length, places = markerPositions(findings, frame)
    const positions = new Float32Array(2 * places.length)
    positions.set(places)
    positions.set(places, places.length)
    const made = new BufferGeometry()
    made.setAttribute('position', new BufferAttribute(positions, 3))
    made.setAttribute('cell', new BufferAttribute(Float32Array.from({ length: 2 * count }, (_, i) => i < count ? cellOf(i, findings[i].severity) : 0), 1))
    made.setAttribute('sizePx', new BufferAttribute(new Float32Array(2 * count), 1))
    made.setAttribute('offPx', new BufferAttribute(new Float32Array(4 * count), 2))
    made.setIndex(new BufferAttribute(new Uint32Array(2 * count), 1))
    return made
  }, [findings, frame])
  useEffect(() => () => { geometry.dispose() }, [geometry])

  const order = useMemo(() => marksInOrder(findings, shown, chosenId), [findings, shown, chosenId])

  const material = useMemo(() => new ShaderMaterial({
    uniforms: { atlas: { value: null }, grown: { value: 1 }, pxToClip: { value: new Vector2() } },
    vertexShader: `
      uniform float grown;
      attribute float cell;
      attribute float sizePx;
      attribute vec2 offPx;
      uniform vec2 pxToClip;
      varying vec2 vCorner;
      void main() {
        gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
        gl_Position.xy += offPx * grown * pxToClip * gl_Position.w;
        gl_PointSize = sizePx * grown;
        vCorner = vec2(mod(cell, ${CELLS_ACROSS}.0), floor(cell / ${CELLS_ACROSS}.0));
      }`,
    fragmentShader: `
      uniform sampler2D atlas;
      varying vec2 vCorner;
      void main() {
        vec2 at = (vCorner + gl_PointCoord) / ${CELLS_ACROSS}.0;
        vec4 ink = texture2D(atlas, vec2(at.x, 1.0 - at.y));
        if (ink.a < 0.02) discard;
        gl_FragColor = ink;
        #include <colorspace_fragment>
      }`,
    transparent: true,
    depthTest: false,
    depthWrite: false,
  }), [])
  useEffect(() => () => { material.dispose() }, [material])
  material.uniforms.atlas.value = texture
  useFrame((state) => {
    const grown = grownAt(state, findings.length)
    material.uniforms.grown.value = grown
    const { width, height } = state.size
    material.uniforms.pxToClip.value.set(2 / width / dpr, 2 / height / dpr)
    const groups = groupMarks(marksOnScreen(findings, frame, state.camera, width, height), order, apartPx(grown, isNarrow))
    const index = geometry.getIndex()!, sizes = geometry.getAttribute('sizePx'), cells = geometry.getAttribute('cell'), offs = geometry.getAttribute('offPx')
    let at = 0
    // the worst and the chosen one come first, so they are drawn last: on top of their neighbours
    for (const { lead } of groups.toReversed()) {
      sizes.setX(lead, sizePxOf(lead) * dpr)
      index.setX(at++, lead)
    }
    for (const { lead, more } of groups) {
      if (more === 0) continue
      const size = sizePxOf(lead), badge = findings.length + lead
      sizes.setX(badge, Math.max(BADGE_PX, size * 0.62) * dpr)
      cells.setX(badge, cellOfMore(moreStep(more)))
      offs.setXY(badge, size * 0.46 * dpr, size * 0.44 * dpr)
      index.setX(at++, badge)
    }
    geometry.setDrawRange(0, at)
    for (const changed of [index, sizes, cells, offs]) changed.needsUpdate = true
  })

  if (order.length === 0) return null
  return <points geometry={geometry} material={material} renderOrder={10} frustumCulled={false} dispose={null} name="markers" userData={{ shown: order.length }} />
}
