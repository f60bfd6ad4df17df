import { moveSentence, sentenceOf } from '#checks/wording.ts'
import { goToPlace } from '../../desk.ts'
import { capital } from '../../facts.ts'
import { CHECK } from '../../places/index.ts'
import { useDesk } from '../../useDesk.ts'

/** What is wrong here, in words, and the way to where it is mended. */
export function PickedFinding({ id }: { readonly id: string }) {
  const finding = useDesk((now) => now.verdict?.findings.find((one) => one.id === id))
  if (finding === undefined) return <p>This has been put right.</p>
  const move = moveSentence(finding)
  return (
    <>
      {move !== '' && <p className="move">{move}</p>}
      <p>{capital(sentenceOf(finding))}</p>
      <div className="pad-buttons"><button type="button" className="button" onClick={() => { goToPlace(CHECK) }}>See it in the list of what to change</button></div>
    </>
  )
}

/** A run is changed where runs are threaded. */
export function PickedRun() {
  return (
    <>
      <p>Here it shows what must stay clear of it.</p>
      <div className="pad-buttons"><button type="button" className="button" onClick={() => { goToPlace('thread') }}>Change it under Thread</button></div>
    </>
  )
}
