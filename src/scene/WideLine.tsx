import { useEffect, useMemo } from 'react'
import { Line2 } from 'three/examples/jsm/lines/Line2.js'
import { LineGeometry } from 'three/examples/jsm/lines/LineGeometry.js'
import { LineMaterial } from 'three/examples/jsm/lines/LineMaterial.js'
import type { Xyz } from './frame.ts'

/**
 * A line some pixels wide, over everything. Its material stays when its points change, so that one that follows the pointer
 * is not compiled anew in every frame.
 * @param points scene units
 */
export function WideLine({ points, widthPx, colour, renderOrder }: {
  readonly points: readonly Xyz[], readonly widthPx: number, readonly colour: string, readonly renderOrder: number
}) {
  const line = useMemo(() => new Line2(new LineGeometry(), new LineMaterial({ depthTest: false, transparent: true })), [])
  const geometry = useMemo(() => {
    const made = new LineGeometry()
    made.setPositions(points.flat())
    return made
  }, [points])
  useEffect(() => () => { geometry.dispose() }, [geometry])
  useEffect(() => () => { line.material.dispose() }, [line])
  line.geometry = geometry
  line.material.color.set(colour)
  line.material.linewidth = widthPx
  line.renderOrder = renderOrder
  line.frustumCulled = false
  return <primitive object={line} dispose={null} />
}
