import { useRef, useState } from 'react'
import { marksAtDistance } from '#commands/views.ts'
import type { Job, Point2, Underlay } from '#model/index.ts'
import { LengthField } from '../../plan/LengthField.tsx'
import { usePicture } from '../../plan/PlanUnderlay.tsx'
import { askForPoint, board, performInPlan } from '../../plan/board.ts'
import { keepPicture } from '../../plan/pictureShelf.ts'
import { pixelOfSite } from '../../plan/underlayPlace.ts'
import { useBoard } from '../../plan/useBoard.ts'

/** A picture is first shown as if it were so wide, mm, until two points of it are known. */
const FIRST_WIDTH_MM = 10_000

/** A photo, scan or picture of a plan to draw over, scaled by two points that are a known distance apart. */
export function TracePlan({ job }: { readonly job: Job }) {
  const input = useRef<HTMLInputElement>(null)
  const [why, setWhy] = useState<string | null>(null)
  const [pair, setPair] = useState<readonly [Point2, Point2] | null>(null)
  const isAsking = useBoard(({ asked }) => asked !== null)
  const { underlay } = job
  const url = usePicture(underlay)

  const choose = async (file: File): Promise<void> => {
    try {
      const image = await createImageBitmap(file)
      const { width: widthPixels, height: heightPixels } = image
      image.close()
      const picture = file.name.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029]/g, ' ').trim().slice(0, 200) || 'plan'
      const isKept = await keepPicture({ picture, widthPixels, heightPixels }, file)
      const mm = FIRST_WIDTH_MM
      const marks = marksAtDistance([0, heightPixels], [widthPixels, heightPixels], mm)
      if (marks !== undefined) performInPlan({ do: 'set-underlay', underlay: { picture, widthPixels, heightPixels, marks } })
      setWhy(isKept ? null : 'This browser would not keep the picture: it is there until the window closes. What you draw over it is kept.')
    } catch {
      setWhy(`${file.name} is no picture that this browser can show. A page of a PDF can be saved as a picture first.`)
    }
  }
  const scale = (now: Underlay): void => {
    askForPoint('Tap one end of a length that you know, such as a wall with its size written on it: the datum 0, 0 goes there.', (first) => {
      askForPoint('Tap the other end of it.', (second) => {
        board.setState({ asked: null })
        setPair([pixelOfSite(now.marks, first), pixelOfSite(now.marks, second)])
      })
    })
  }
  return (
    <section className="shelf" aria-label="Trace over a picture">
      <h3>Trace over a picture of the plan</h3>
      {underlay === undefined
        ? <p className="quiet">A photo, a scan, or a drawing saved as a picture. It stays in this browser.</p>
        : <p>{underlay.picture}{url === null ? ': this browser does not have the picture; choose it again to see it. What was drawn over it is all here.' : ''}</p>}
      <div className="pad-buttons">
        <button type="button" className="button" onClick={() => input.current?.click()}>{underlay === undefined ? 'Choose a picture' : 'Choose another'}</button>
        {underlay !== undefined && url !== null && <button type="button" className="button" aria-pressed={isAsking} onClick={() => { scale(underlay) }}>Set its scale</button>}
        {underlay !== undefined && <button type="button" className="button" onClick={() => { performInPlan({ do: 'remove-underlay' }) }}>Take it away</button>}
      </div>
      <input ref={input} type="file" accept="image/*" hidden aria-hidden="true" tabIndex={-1} onChange={(event) => {
        const file = event.target.files?.[0]
        event.target.value = ''
        if (file !== undefined) void choose(file)
      }} />
      {pair !== null && underlay !== undefined && (
        <LengthField label="How long is it really?" valueMm={0} autoFocus onType={(mm) => {
          const marks = marksAtDistance(pair[0], pair[1], mm)
          if (marks === undefined) return 'the two points are the same'
          performInPlan({ do: 'set-underlay', underlay: { ...underlay, marks } })
          setPair(null)
        }} />
      )}
      {why !== null && <p role="status">{why}</p>}
    </section>
  )
}
