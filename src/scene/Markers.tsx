import { useFrame, useThree } from '@react-three/fiber'
import { useEffect, useMemo } from 'react'
import { BufferAttribute, BufferGeometry, CanvasTexture, LinearFilter, ShaderMaterial, SRGBColorSpace } from 'three'
import type { Finding, Severity } from '#checks/finding.ts'
import type { Frame } from './frame.ts'
import { toScene } from './frame.ts'
import { pxToMetre } from './nearness.ts'
import { CELLS_ACROSS, cellOf, drawAtlas } from './markerAtlas.ts'

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
  const isNarrow = useThree((state) => state.size.width < NARROW_PX)
  const pixelRatio = dpr * (isNarrow ? NARROW_SHRINK : 1)
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

  const geometry = useMemo(() => {
    const made = new BufferGeometry()
    made.setAttribute('position', new BufferAttribute(markerPositions(findings, frame), 3))
    made.setAttribute('cell', new BufferAttribute(Float32Array.from(findings, ({ severity }, i) => cellOf(i, severity)), 1))
    made.setAttribute('sizePx', new BufferAttribute(new Float32Array(findings.length), 1))
    return made
  }, [findings, frame])
  useEffect(() => () => { geometry.dispose() }, [geometry])

  const drawnCount = useMemo(() => {
    // the chosen one comes last, so that it lies on top of its neighbours
    const order = findings.flatMap(({ id }, i) => shown.has(id) && id !== chosenId ? [i] : [])
    const chosen = findings.findIndex(({ id }) => id === chosenId)
    // worst first in the list, so drawn last to first
    order.reverse()
    if (chosen >= 0) order.push(chosen)
    const size = geometry.getAttribute('sizePx')
    findings.forEach((_, i) => size.setX(i, (i === chosen ? CHOSEN_PX : MARK_PX) * pixelRatio))
    size.needsUpdate = true
    geometry.setIndex(order)
    return order.length
  }, [geometry, findings, shown, chosenId, pixelRatio])

  const material = useMemo(() => new ShaderMaterial({
    uniforms: { atlas: { value: null }, grown: { value: 1 } },
    vertexShader: `
      uniform float grown;
      attribute float cell;
      attribute float sizePx;
      varying vec2 vCorner;
      void main() {
        gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
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
    const least = findings.length > MANY ? FAR_SHRINK : 1
    material.uniforms.grown.value = Math.max(least, Math.min(1, pxToMetre(state) / NEAR_PX_TO_METRE))
  })

  if (drawnCount === 0) return null
  return <points geometry={geometry} material={material} renderOrder={10} frustumCulled={false} dispose={null} name="markers" />
}
