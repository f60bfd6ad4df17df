import { useEffect, useState } from 'react'
import { useStore } from 'zustand'
import { keeper, save } from '../opening.ts'
import { noticeWords, troubleWords } from '../keepingWords.ts'
import { offline, takeNewer } from '../offline/newerVersion.ts'
import { useKeeper } from '../useKeeper.ts'
import '../work.css'

const SAVED_SHOWN_MS = 6_000

/** What a person must know of what is kept, with what can be done about it. */
export function Notices() {
  const trouble = useKeeper((now) => now.trouble)
  const notice = useKeeper((now) => now.notice)
  const isElsewhere = useKeeper((now) => now.isElsewhere)
  const wouldLose = useKeeper((now) => now.wouldLose)
  const isNewer = useStore(offline, (now) => now.isNewer)
  const [later, setLater] = useState(false)
  const [read, setRead] = useState<string | null>(null)
  // good news goes by itself
  useEffect(() => {
    if (notice?.kind !== 'saved') return
    const timer = setTimeout(() => { keeper.tell(null) }, SAVED_SHOWN_MS)
    return () => { clearTimeout(timer) }
  }, [notice])
  const isRead = trouble !== null && trouble.kind === read
  return (
    <div className="notices" role="region" aria-label="About your work">
      {wouldLose !== null && (
        <Notice kind="would-lose" title="Your last changes are in this window only" words="Opening another job would lose them.">
          <button type="button" className="button button-strong" onClick={() => { void save() }}>Save to a file</button>
          <button type="button" className="button" onClick={wouldLose.goOn}>Open the other anyway</button>
          <button type="button" className="button" onClick={() => { keeper.stay() }}>Stay here</button>
        </Notice>
      )}
      {trouble !== null && !isRead && (
        <Notice kind={trouble.kind} {...troubleWords(trouble)}>
          {trouble.kind === 'changed-elsewhere' ? (
            <>
              <button type="button" className="button button-strong" onClick={() => { void keeper.keepAsCopy() }}>Keep mine as a copy</button>
              <button type="button" className="button" onClick={() => { void keeper.takeOther() }}>Go on with the other</button>
            </>
          ) : <button type="button" className="button button-strong" onClick={() => { void save() }}>Save to a file</button>}
          {trouble.kind === 'refused' && <button type="button" className="button" onClick={() => { setRead('refused') }}>I know</button>}
        </Notice>
      )}
      {isElsewhere && (
        <Notice kind="elsewhere" title="This job is open in another window" words="Here you can look at it. It can be changed here as soon as the other window is closed.">
          <button type="button" className="button" onClick={() => { void keeper.keepAsCopy() }}>Work on a copy</button>
        </Notice>
      )}
      {notice !== null && (
        <Notice kind={notice.kind} words={noticeWords(notice)}>
          <button type="button" className="button" onClick={() => { keeper.tell(null) }}>All right</button>
        </Notice>
      )}
      {isNewer && !later && (
        <Notice kind="newer" words="A newer Joistway is here. Your work is kept while it changes over.">
          <button type="button" className="button" onClick={takeNewer}>Take it now</button>
          <button type="button" className="button" onClick={() => { setLater(true) }}>Later</button>
        </Notice>
      )}
    </div>
  )
}

function Notice({ kind, title, words, children }: { readonly kind: string, readonly title?: string, readonly words: string, readonly children: React.ReactNode }) {
  return (
    <div className="notice" role="status" data-notice={kind}>
      <div className="notice-words">
        {title !== undefined && <p className="notice-title">{title}</p>}
        <p>{words}</p>
      </div>
      <div className="notice-buttons">{children}</div>
    </div>
  )
}
