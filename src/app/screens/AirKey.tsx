import { useMemo } from 'react'
import { AIR, STREAMS_IN_ORDER, airOf } from '#scene/air.ts'
import { useDesk } from '../useDesk.ts'

/** What the colours of the ducts mean, by their letters. */
export function AirKey() {
  const open = useDesk((now) => now.open)
  const streams = useMemo(() => {
    const carried = new Set(open?.assembly.runs.map(airOf))
    return STREAMS_IN_ORDER.filter((stream) => carried.has(stream))
  }, [open])
  if (streams.length === 0) return null
  return (
    <ul className="air-key" aria-label="Colours of the ducts">
      {streams.map((stream) => (
        <li key={stream}><span className="air-swatch" style={{ background: AIR[stream].colour }} /> <b>{AIR[stream].letters}</b> <span className="air-words">{AIR[stream].words}</span></li>
      ))}
    </ul>
  )
}
