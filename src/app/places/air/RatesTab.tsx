import { FREE_AREA_SHARE, transferMm2 } from '#air/lacks.ts'
import { RATES } from '#air/rateTables.ts'
import type { RoomFlow, TerminalFlow } from '#air/rates.ts'
import { FROM_WORDS, lps, ruleWords } from '#air/wording.ts'
import { RATE_TABLES, type RateTableId } from '#model/index.ts'
import { ChoiceField, TickField } from '../../plan/PlainFields.tsx'
import { tried } from '../../plan/picked/tried.ts'
import { FigureField } from './FigureField.tsx'
import { Fold, From } from './said.tsx'
import type { AirShown } from './useAir.ts'

type EditAir = Extract<Parameters<typeof tried>[0], { do: 'edit-air' }>['set']
export const editAir = (set: EditAir): string | undefined => tried({ do: 'edit-air', set })

const mm2 = (value: number): string => `${Math.round(value).toLocaleString('en-GB')} mm²`

/** How much air, by which rule, for the dwelling, each room and each terminal; and the user's own figures in their place. */
export function RatesTab({ assembly: { job }, report: { rates, settings } }: AirShown) {
  const { table, dwelling, dwellingFrom, tableLps, wholeLps, isWholeEntered, decidedBy, trickle, normal, boost, isTrickleEntered } = rates
  const fromRooms = (from: string, value: string): string | undefined => from === 'entered' ? undefined : `rooms: ${value}`
  return (
    <>
      <section className="air-part">
        <h3>By which rule</h3>
        <ChoiceField label="Rate table" value={settings.table} onChoose={(id) => { editAir({ table: id as RateTableId }) }}
          choices={RATE_TABLES.map((id) => ({ value: id, words: `${RATES[id].country}: ${RATES[id].whole.source.document}` }))} />
        <p className="air-big">{lps(tableLps)} <span>for the whole dwelling, decided by {decidedBy === 'both' ? 'floor area and bedrooms' : decidedBy}</span></p>
        <ul className="air-lines">{ruleWords(rates).map((line) => <li key={line}>{line}</li>)}</ul>
        <p><From source={table.whole.source} /></p>
        {isWholeEntered && <p className="air-entered">Entered by hand in its place: <b>{lps(wholeLps)}</b>.</p>}
        <p className="air-note">A figure that you enter takes the place of the table’s or of what the rooms add up to; clear it, and that comes back. Every sheet says what was entered by hand.</p>
        <div className="fields">
          <FigureField label="Floor area, all storeys" unit="m²" value={settings.floorAreaM2} least={1} assumed={fromRooms(dwellingFrom.floorArea, dwelling.floorAreaM2.toFixed(1))} onTake={(floorAreaM2) => editAir({ floorAreaM2 })} />
          <FigureField label="Bedrooms" unit="" whole value={settings.bedrooms} least={0} assumed={fromRooms(dwellingFrom.bedrooms, String(dwelling.bedrooms))} onTake={(bedrooms) => editAir({ bedrooms })} />
          <FigureField label="Habitable rooms" unit="" whole value={settings.habitableRooms} least={1} assumed={fromRooms(dwellingFrom.habitableRooms, String(dwelling.habitableRooms))} onTake={(habitableRooms) => editAir({ habitableRooms })} />
          <FigureField label="Whole dwelling" unit="l/s" value={settings.wholeLps} assumed={`table: ${tableLps.toFixed(1)}`} onTake={(value) => editAir({ wholeLps: value })} />
          <FigureField label="Boost, whole dwelling" unit="l/s" value={settings.boostLps} assumed={`rooms: ${boost.extractLps.toFixed(1)}`} onTake={(boostLps) => editAir({ boostLps })} />
          <FigureField label="Trickle, whole dwelling" unit="l/s" value={settings.trickleLps} assumed="as normal" onTake={(trickleLps) => editAir({ trickleLps })} />
          <FigureField label="Most that one terminal may carry" unit="l/s" value={settings.mostPerTerminalLps} assumed="no limit" onTake={(mostPerTerminalLps) => editAir({ mostPerTerminalLps })} />
        </div>
      </section>
      <section className="air-part">
        <h3>In all</h3>
        <table className="air-table">
          <thead><tr><th scope="col">Speed</th><th scope="col">Supply</th><th scope="col">Extract</th></tr></thead>
          <tbody>
            {([['Trickle', trickle], ['Normal', normal], ['Boost', boost]] as const).map(([name, totals]) => (
              <tr key={name}><th scope="row">{name}</th><td>{lps(totals.supplyLps)}</td><td>{lps(totals.extractLps)}</td></tr>
            ))}
          </tbody>
        </table>
        <p className="air-note">{isTrickleEntered ? 'The trickle rate is entered by hand.' : 'No trickle rate is entered: it is normal running, the rate that the table asks without a break.'} Supply is shared by <From source={table.supply.source} />; extract by <From source={table.extract.source} />.</p>
      </section>
      <section className="air-part air-part-list">
        <h3>Room by room</h3>
        {rates.rooms.map((flow) => <RoomFold key={flow.room.id} flow={flow} terminals={rates.terminals.filter(({ room }) => room?.id === flow.room.id)} tableId={table.id} />)}
        {rates.terminals.some(({ room }) => room === null) && (
          <Fold title="Terminals in no room" more="They take part only with a flow of their own">
            {rates.terminals.filter(({ room }) => room === null).map((terminal) => <TerminalFields key={terminal.equipment.id} terminal={terminal} />)}
          </Fold>
        )}
        {job.rooms.length === 0 && <p>No rooms.</p>}
      </section>
    </>
  )
}

function RoomFold({ flow, terminals, tableId }: { readonly flow: RoomFlow, readonly terminals: readonly TerminalFlow[], readonly tableId: RateTableId }) {
  const { room, supply, extract, isHabitable, highLps, floorM2, volumeM3 } = flow
  const table = RATES[tableId]
  const edit = (set: Extract<Parameters<typeof tried>[0], { do: 'edit-room-air' }>['set']) => tried({ do: 'edit-room-air', id: room.id, set })
  const entered = room.airflow ?? {}
  const lacks = [...isHabitable && supply === null ? ['no supply'] : [], ...highLps !== null && extract === null ? ['no extract'] : []]
  const gets = [
    ...supply === null ? [] : [`supply ${lps(supply.normalLps)}, boost ${lps(supply.boostLps)}`], ...extract === null ? [] : [`extract ${lps(extract.normalLps)}, boost ${lps(extract.boostLps)}`],
  ]
  const freeMm2 = transferMm2(room)
  return (
    <Fold title={room.name} more={<>{lacks.length > 0 && <b>{'\u2717'} {lacks.join(', ')}. </b>}{gets.join('; ') || (lacks.length === 0 ? 'nothing asked, nothing given' : '')}</>}>
      <ul className="air-lines">
        <li>{room.use}, {floorM2.toFixed(1)} m² of floor, {volumeM3.toFixed(1)} m³</li>
        {isHabitable ? <li>A habitable room: it needs supply, a share by its volume (<From source={table.supply.source} />)</li> : <li>No habitable room: no supply is asked</li>}
        {highLps !== null && <li>Extract of at least {lps(highLps)} at the high rate (<From source={table.extract.source} />)</li>}
        {[supply, extract].some((one) => one?.from === 'assumed') && <li>Its flow is assumed: the table has none for its use</li>}
        {(supply !== null || extract !== null) && (
          <li>{freeMm2 === null ? 'The way under its door is not entered' : `${mm2(freeMm2)} for air to pass to and from it`}; {mm2(table.undercut.mm2)} is asked (<From source={table.undercut.source} />)</li>
        )}
      </ul>
      <TickField label="A habitable room" isOn={isHabitable} onTick={(habitable) => { edit({ habitable: habitable === table.supply.habitable.includes(room.use) ? null : habitable }) }} />
      <div className="fields">
        <FigureField label="Supply, normal" unit="l/s" value={entered.supplyLps} assumed={supply === null ? 'no terminal' : supply.normalLps.toFixed(1)} onTake={(supplyLps) => edit({ supplyLps })} />
        <FigureField label="Extract, normal" unit="l/s" value={entered.extractLps} assumed={extract === null ? 'no terminal' : extract.normalLps.toFixed(1)} onTake={(extractLps) => edit({ extractLps })} />
        <FigureField label="Boost" unit="l/s" value={entered.boostLps} assumed={(extract ?? supply)?.boostLps.toFixed(1) ?? 'no terminal'} onTake={(boostLps) => edit({ boostLps })} />
        {room.doors.map((door, i) => (
          <FigureField key={i} label={`Gap under ${room.doors.length > 1 ? `door ${i + 1}` : 'the door'}, ${Math.round(door.widthMm)} mm wide`} unit="mm" value={door.undercutMm} least={0} assumed="not entered" onTake={(undercutMm) => tried({ do: 'set-undercut', room: room.id, door: i, undercutMm })} />
        ))}
        <FigureField label="Transfer grilles, free" unit="mm²" value={entered.transferMm2} least={0} assumed="none" onTake={(transferMm2Now) => edit({ transferMm2: transferMm2Now })} />
      </div>
      {room.doors.length === 0 && <p className="air-note">No door is drawn: put one in under “Measure up”, then its gap can be entered.</p>}
      {terminals.map((terminal) => <TerminalFields key={terminal.equipment.id} terminal={terminal} />)}
    </Fold>
  )
}

function TerminalFields({ terminal: { equipment, stream, normalLps, boostLps, from, mostLps } }: { readonly terminal: TerminalFlow }) {
  const edit = (set: Extract<Parameters<typeof tried>[0], { do: 'edit-equipment-air' }>['set']) => tried({ do: 'edit-equipment-air', id: equipment.id, set })
  const entered = equipment.airflow ?? {}
  return (
    <section className="air-thing" aria-label={equipment.name}>
      <h4>{equipment.name}</h4>
      <p>{stream}, <b>{lps(normalLps)}</b> in normal running, <b>{lps(boostLps)}</b> in boost; {FROM_WORDS[from]}{mostLps === null ? '' : `; ${lps(mostLps)} at most`}</p>
      <div className="fields">
        <FigureField label="Own flow, normal" unit="l/s" value={entered.normalLps} assumed={normalLps.toFixed(1)} onTake={(value) => edit({ normalLps: value })} />
        <FigureField label="Own flow, boost" unit="l/s" value={entered.boostLps} assumed={boostLps.toFixed(1)} onTake={(value) => edit({ boostLps: value })} />
        <FigureField label="Most it may carry" unit="l/s" value={entered.mostLps} assumed={mostLps === null ? 'no limit' : mostLps.toFixed(1)} onTake={(value) => edit({ mostLps: value })} />
        <FigureField label="Free area at its face" unit="mm²" value={entered.freeAreaMm2} least={0} assumed={`${FREE_AREA_SHARE * 100} % of its ducts asked`} onTake={(freeAreaMm2) => edit({ freeAreaMm2 })} />
      </div>
    </section>
  )
}
