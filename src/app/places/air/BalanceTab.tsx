import { adjustingOrder, type TerminalSetting } from '#air/balance.ts'
import { settingWords, turnWords } from '#air/wording.ts'
import { lps, pa } from '#air/wording.ts'
import { tried } from '../../plan/picked/tried.ts'
import { RowsField } from './RowsField.tsx'
import { Fold } from './said.tsx'
import { goTo } from './useAir.ts'
import type { AirShown } from './useAir.ts'

/** Where each valve stands for normal running, and in which order to turn them. */
export function BalanceTab({ report: { valves, normal, rounds }, assembly }: AirShown) {
  const last = rounds.at(-1)
  const streamOf = new Map(normal.pressures.flatMap(({ system, terminals }) => terminals.flatMap(({ equipment }) => equipment === null ? [] : [[equipment.id as string, system.stream] as const])))
  const nameOf = new Map<string, string>(valves.map(({ equipment }) => [equipment.id, equipment.name]))
  const toTurn = last?.streams.flatMap(({ turns }) => turns).filter(({ way }) => way !== 'leave') ?? []
  return (
    <>
      {last !== undefined && toTurn.length > 0 && (
        <section className="air-part">
          <h3>By the readings of pass {last.number}</h3>
          <ol className="air-lines air-ordered">{toTurn.map((turn) => <li key={turn.id}>{turnWords(turn, nameOf.get(turn.id) ?? turn.id)}</li>)}</ol>
          <p className="air-note">“Commission” goes through them one by one.</p>
        </section>
      )}
      <section className="air-part">
        <h3>Settings before anything is read</h3>
        <p>In this order: the terminal that, with every valve open, would be furthest above its share comes first; the index, whose way is the costliest, stays as open as it goes. Then the fan is brought to the whole.</p>
        <p className="air-note">Approved Document F volume 1, 2021, 4.8: index terminal fully open, the others trimmed; where all are throttled, the fan goes slower. Between half and three-quarters open is where valves without a characteristic start: common practice.</p>
        {valves.length === 0 && <p>No terminal has both a flow and a duct yet.</p>}
      </section>
      {(['supply', 'extract'] as const).map((stream) => {
        const own = adjustingOrder(valves.filter(({ equipment }) => streamOf.get(equipment.id) === stream))
        return own.length === 0 ? null : (
          <section key={stream} className="air-part air-part-list">
            <h3>{stream === 'supply' ? 'Supply' : 'Extract'}</h3>
            {own.map((valve, i) => <ValveFold key={valve.equipment.id} valve={valve} number={i + 1} show={() => { goTo(assembly, valve.equipment.id) }} />)}
          </section>
        )
      })}
    </>
  )
}

function ValveFold({ valve, number, show }: { readonly valve: TerminalSetting, readonly number: number, readonly show: () => void }) {
  const { equipment, lps: flow, dropPa, sparePa } = valve
  const edit = (set: Extract<Parameters<typeof tried>[0], { do: 'edit-equipment-air' }>['set']) => tried({ do: 'edit-equipment-air', id: equipment.id, set })
  const { settings, settingUnit = '', losses } = equipment.airflow ?? {}
  return (
    <Fold title={`${number}. ${equipment.name}`} more={<>{lps(flow)}: {settingWords(valve).replace(/ \(no characteristic.*\)$/, '')}</>}>
      <p>It must take up {pa(dropPa)} at {lps(flow)}, {pa(sparePa)} of it by being closed.</p>
      <p className="air-note">The maker’s characteristic: at each setting, a flow and the drop over the valve at it. Between two settings it is read off a straight line on paper with equal steps for equal ratios; beyond them nothing is known.</p>
      <RowsField title={`Characteristic of ${equipment.name}`} one="setting" rows={settings ?? []} onRows={(rows) => edit({ settings: rows as NonNullable<typeof settings> | null })}
        columns={[{ key: 'setting', label: 'setting', unit: '' }, { key: 'flowLps', label: 'flow', unit: 'l/s', least: 0.01 }, { key: 'dropPa', label: 'drop', unit: 'Pa', least: 0.01 }]} />
      <div className="field">
        <label htmlFor={`unit-${equipment.id}`}>Its settings are counted in</label>
        <input id={`unit-${equipment.id}`} key={settingUnit} defaultValue={settingUnit} placeholder="turns, mm, %" autoComplete="off" onBlur={(event) => {
          const now = event.target.value.trim()
          if (now !== settingUnit) edit({ settingUnit: now === '' ? null : now })
        }} />
      </div>
      {losses !== undefined && losses.length > 0 && settings === undefined && <p className="air-note">Its drop fully open is entered: {losses.map(({ name }) => name).join(', ')}.</p>}
      <button type="button" className="button" onClick={show}>Show it in the void</button>
    </Fold>
  )
}
