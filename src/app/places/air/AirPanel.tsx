import { useState } from 'react'
import type { KeyboardEvent } from 'react'
import { countText } from '../../figures.ts'
import { BalanceTab } from './BalanceTab.tsx'
import { CareTab } from './CareTab.tsx'
import { PlacesTab } from './PlacesTab.tsx'
import { PressureTab } from './PressureTab.tsx'
import { RatesTab } from './RatesTab.tsx'
import { SpeedTab } from './SpeedTab.tsx'
import { Remarks, TAB_OF, type TabId } from './said.tsx'
import { useAir } from './useAir.ts'
import '../../plan/picked/picked.css'
import './air.css'

const TABS: readonly { readonly id: TabId, readonly name: string }[] = [
  { id: 'rates', name: 'Rates' }, { id: 'pressure', name: 'Pressure' }, { id: 'balance', name: 'Balance' },
  { id: 'speed', name: 'Speed and noise' }, { id: 'places', name: 'Placing' }, { id: 'care', name: 'Take care' },
]

/** What the air of the job comes to, and what the user enters in place of what is assumed. */
export function AirPanel() {
  const shown = useAir()
  const [tab, setTab] = useState<TabId>('rates')
  if (shown === null) return <section className="teach"><h3>No job open</h3><p>Open a job, and its air is worked out here.</p></section>
  const { report, assembly } = shown
  if (assembly.job.rooms.length === 0) {
    return <section className="teach"><h3>No rooms yet</h3><p>Air is asked for rooms: draw them in “Measure up”, name their use, and put a terminal into each that needs supply or extract. Then everything here is worked out.</p></section>
  }
  const mend = report.remarks.filter(({ severity }) => severity === 'mend').length, advice = report.remarks.length - mend
  const at = TABS.findIndex(({ id }) => id === tab)
  const onKeyDown = (event: KeyboardEvent): void => {
    const to = { ArrowRight: (at + 1) % TABS.length, ArrowLeft: (at + TABS.length - 1) % TABS.length, Home: 0, End: TABS.length - 1 }[event.key]
    if (to === undefined) return
    event.preventDefault()
    setTab(TABS[to].id)
    document.getElementById(`air-tab-${TABS[to].id}`)?.focus()
  }
  return (
    <div className="air-panel">
      <p className="air-verdict" role="status"><b>{mend === 0 ? 'Nothing to put right' : `${countText(mend, 'thing')} to put right`}</b>{advice > 0 && `, ${advice} worth a look`}</p>
      <div className="air-tabs" role="tablist" aria-label="About the air" onKeyDown={onKeyDown}>
        {TABS.map(({ id, name }) => {
          const own = report.remarks.filter(({ code }) => TAB_OF[code] === id)
          const isBad = own.some(({ severity }) => severity === 'mend')
          return (
            <button key={id} type="button" role="tab" id={`air-tab-${id}`} aria-selected={tab === id} aria-controls="air-tab-panel" tabIndex={tab === id ? 0 : -1} onClick={() => { setTab(id) }}>
              {name}{own.length > 0 && <span className={isBad ? 'air-count air-count-bad' : 'air-count'}>{isBad && '\u2717\u00a0'}{own.length}</span>}
            </button>
          )
        })}
      </div>
      <div id="air-tab-panel" className="air-tab-panel" role="tabpanel" aria-labelledby={`air-tab-${tab}`} data-air-tab={tab}>
        <Remarks remarks={report.remarks} assembly={assembly} tab={tab} />
        {tab === 'rates' && <RatesTab {...shown} />}
        {tab === 'pressure' && <PressureTab {...shown} />}
        {tab === 'balance' && <BalanceTab {...shown} />}
        {tab === 'speed' && <SpeedTab {...shown} />}
        {tab === 'places' && <PlacesTab {...shown} />}
        {tab === 'care' && <CareTab {...shown} />}
      </div>
    </div>
  )
}
