/** How a figure says where it comes from, and how what is wrong is listed. */
import type { ReactNode } from 'react'
import type { Remark, RemarkCode } from '#air/remark.ts'
import { sourceWords, type Source } from '#air/sources.ts'
import { SEVERITY_WORDS, TITLES, sentenceOf, titleOf } from '#air/wording.ts'
import type { Assembly } from '#assembly/assembly.ts'
import { SeverityMark } from '../../screens/SeverityMark.tsx'
import { canShow, goTo } from './useAir.ts'

export function From({ source }: { readonly source: Source }) {
  return <span className="air-from">{sourceWords(source)}</span>
}

export type TabId = 'rates' | 'pressure' | 'balance' | 'speed' | 'places' | 'care'

/** where each remark is told */
export const TAB_OF: Readonly<Record<RemarkCode, TabId>> = {
  'no-supply': 'rates', 'no-extract': 'rates', 'below-table': 'rates', 'room-below-table': 'rates', 'unbalanced': 'rates', 'over-limit': 'rates', 'undercut-small': 'rates',
  'undercut-unknown': 'rates', 'rate-assumed': 'rates', 'supply-not-asked': 'rates', 'trickle-below-table': 'rates', 'free-area-small': 'rates',
  'unconnected': 'pressure', 'mixed-air': 'pressure', 'air-unknown': 'pressure', 'no-start': 'pressure', 'not-settled': 'pressure', 'fan-too-weak': 'pressure', 'trickle-share': 'pressure', 'terminal-assumed': 'pressure', 'roughness-assumed': 'pressure',
  'cannot-open-enough': 'balance', 'cannot-close-enough': 'balance', 'too-fast': 'speed',
  'hood-no-room': 'places', 'extract-too-low': 'places', 'near-the-door': 'places', 'in-corner': 'places', 'intake-near': 'places', 'intake-low': 'places',
}

/** What must be put right stands open; advice is folded away. */
export function Remarks({ remarks, assembly, tab }: { readonly remarks: readonly Remark[], readonly assembly: Assembly, readonly tab: TabId }) {
  const own = remarks.filter(({ code }) => TAB_OF[code] === tab)
  const mend = own.filter(({ severity }) => severity === 'mend'), advice = own.filter(({ severity }) => severity === 'advice')
  return (
    <>
      {mend.length > 0 && <RemarkList remarks={mend} assembly={assembly} words="To be put right" />}
      {advice.length > 0 && <div className="air-advice"><Fold title={`${advice.length} worth a look`} more={[...new Set(advice.map(({ code }) => TITLES[code]))].join('; ')}><RemarkList remarks={advice} assembly={assembly} words="Worth a look" /></Fold></div>}
    </>
  )
}

function RemarkList({ remarks, assembly, words: listWords }: { readonly remarks: readonly Remark[], readonly assembly: Assembly, readonly words: string }) {
  return (
    <ul className="rows air-remarks" aria-label={listWords}>
      {remarks.map((remark) => {
        const shown = remark.parts.find(({ id }) => canShow(assembly, id))
        const words = (
          <>
            <SeverityMark severity={remark.severity} />
            <span className="row-words">
              <span className="row-title">{titleOf(remark)}</span>
              <span className="row-more"><b>{SEVERITY_WORDS[remark.severity]}.</b> {sentenceOf(remark)}</span>
            </span>
          </>
        )
        return (
          <li key={remark.id} data-remark={remark.code}>
            {shown === undefined ? <div className="row air-row-still">{words}</div> : <button type="button" className="row" onClick={() => { goTo(assembly, shown.id) }}>{words}</button>}
          </li>
        )
      })}
    </ul>
  )
}

/** A fold with a line that says what is in it. */
export function Fold({ title, more, children }: { readonly title: ReactNode, readonly more?: ReactNode, readonly children: ReactNode }) {
  return (
    <details className="air-fold">
      <summary><span className="row-title">{title}</span>{more !== undefined && <span className="row-more">{more}</span>}</summary>
      <div className="air-fold-in">{children}</div>
    </details>
  )
}
