/** How much air: the rate table's, or the user's own where he has entered it, for the dwelling, its rooms and its terminals. */
import type { AirSettings, AirStream, Equipment, Job, Room } from '#model/index.ts'
import { usualAir } from '#model/index.ts'
import { RATES, wholeRateLps, type Dwelling, type RateTable } from './rateTables.ts'

/** Where a figure comes from: the table, the user in place of it, or neither (a terminal that the table does not ask for). */
export type FlowFrom = 'table' | 'entered' | 'assumed'

export interface RoomFlow {
  readonly room: Room
  readonly floorM2: number
  readonly volumeM3: number
  readonly isHabitable: boolean
  /** the table's high rate for its use; null where it has none */
  readonly highLps: number | null
  readonly supply: StreamFlow | null
  readonly extract: StreamFlow | null
}
export interface StreamFlow { readonly normalLps: number, readonly boostLps: number, readonly from: FlowFrom }

export interface TerminalFlow {
  readonly equipment: Equipment
  readonly stream: 'supply' | 'extract'
  readonly room: Room | null
  readonly trickleLps: number
  readonly normalLps: number
  readonly boostLps: number
  readonly from: FlowFrom
  /** null: no limit */
  readonly mostLps: number | null
}

export interface Totals { readonly supplyLps: number, readonly extractLps: number }

export interface Rates {
  readonly table: RateTable
  readonly dwelling: Dwelling
  readonly dwellingFrom: { readonly floorArea: FlowFrom, readonly bedrooms: FlowFrom, readonly habitableRooms: FlowFrom }
  /** what the table asks of the whole dwelling, and which part of its rule decided */
  readonly tableLps: number
  readonly decidedBy: string
  /** what is worked with: the table's or the user's */
  readonly wholeLps: number
  readonly isWholeEntered: boolean
  readonly rooms: readonly RoomFlow[]
  readonly terminals: readonly TerminalFlow[]
  /** the trickle rate is the user's; else trickle is normal running */
  readonly isTrickleEntered: boolean
  /** sums over the terminals */
  readonly trickle: Totals
  readonly normal: Totals
  readonly boost: Totals
}

/** @param ductAreaMm2 bore of all ducts at a plenum: how a room's air is shared over its terminals; equal shares where it is 0 */
export function ratesOf(job: Job, ductAreaMm2: (equipmentId: string) => number): Rates {
  const air: AirSettings = job.air ?? usualAir()
  const table = RATES[air.table]
  const terminalsOf = (room: Room, stream: AirStream): readonly Equipment[] =>
    job.equipment.filter((equipment) => equipment.kind === 'plenum' && equipment.air === stream && equipment.room === room.id)
  const isHabitable = (room: Room): boolean => room.airflow?.habitable ?? table.supply.habitable.includes(room.use)

  const habitable = job.rooms.filter(isHabitable)
  const dwelling: Dwelling = {
    floorAreaM2: air.floorAreaM2 ?? job.rooms.reduce((sum, room) => sum + floorM2(room), 0),
    bedrooms: air.bedrooms ?? job.rooms.filter((room) => room.use === 'bedroom').length,
    habitableRooms: air.habitableRooms ?? habitable.length,
  }
  const asked = wholeRateLps(table, dwelling)
  const wholeLps = air.wholeLps ?? asked.lps

  const extractRooms = job.rooms.filter((room) => terminalsOf(room, 'extract').length > 0)
  const supplyRooms = job.rooms.filter((room) => terminalsOf(room, 'supply').length > 0)
  const leastHighLps = Math.min(...Object.values(table.extract.highLps))
  const highOf = (room: Room): number => room.airflow?.boostLps ?? table.extract.highLps[room.use] ?? leastHighLps
  const extract = extractFlows(extractRooms, highOf, wholeLps, air.boostLps ?? null, (room) => room.use in table.extract.highLps)
  const boostLps = sum([...extract.values()].map((flow) => flow.boostLps))
  // nothing extracts: supply alone still brings what the dwelling needs
  const supply = supplyFlows(supplyRooms, wholeLps, extractRooms.length > 0 ? boostLps : air.boostLps ?? wholeLps)

  const rooms = job.rooms.map((room): RoomFlow => ({
    room, floorM2: floorM2(room), volumeM3: volumeM3(room), isHabitable: isHabitable(room), highLps: table.extract.highLps[room.use] ?? null,
    supply: supply.get(room) ?? null, extract: extract.get(room) ?? null,
  }))
  const shares: Omit<TerminalFlow, 'trickleLps'>[] = []
  for (const { room, supply, extract } of rooms) {
    for (const [stream, flow] of [['supply', supply], ['extract', extract]] as const) {
      if (flow !== null) shares.push(...sharedOut(room, stream, flow, terminalsOf(room, stream), air, ductAreaMm2))
    }
  }
  for (const equipment of job.equipment) {
    if (equipment.kind !== 'plenum' || equipment.room !== undefined || equipment.air !== 'supply' && equipment.air !== 'extract') continue
    const { normalLps = 0, boostLps = normalLps } = equipment.airflow ?? {}
    shares.push({ equipment, stream: equipment.air, room: null, normalLps, boostLps, from: 'entered', mostLps: mostOf(equipment, air) })
  }
  const normal = totalsOf(shares, 'normalLps')
  const trickleShare = air.trickleLps === undefined ? 1 : air.trickleLps / (Math.max(normal.supplyLps, normal.extractLps) || 1)
  const terminals = shares.map((terminal): TerminalFlow => ({ ...terminal, trickleLps: trickleShare * terminal.normalLps }))
  return {
    table, dwelling,
    dwellingFrom: { floorArea: from(air.floorAreaM2), bedrooms: from(air.bedrooms), habitableRooms: from(air.habitableRooms) },
    tableLps: asked.lps, decidedBy: asked.decidedBy, wholeLps, isWholeEntered: air.wholeLps !== undefined,
    rooms, terminals, isTrickleEntered: air.trickleLps !== undefined,
    trickle: totalsOf(terminals, 'trickleLps'), normal, boost: totalsOf(terminals, 'boostLps'),
  }
}

function from(entered: number | undefined): FlowFrom {
  return entered === undefined ? 'assumed' : 'entered'
}

/** The whole-dwelling rate shared as the high rates stand to each other; in boost each room at least its high rate. */
function extractFlows(rooms: readonly Room[], highOf: (room: Room) => number, wholeLps: number, wantedBoostLps: number | null, isListed: (room: Room) => boolean): Map<Room, StreamFlow> {
  const normal = sharedBy(rooms, wholeLps, highOf, (room) => room.airflow?.extractLps)
  const boost = new Map(rooms.map((room) => [room, room.airflow?.boostLps ?? Math.max(highOf(room), normal.get(room)!)]))
  const boostSum = sum([...boost.values()])
  const scale = wantedBoostLps !== null && boostSum > 0 ? wantedBoostLps / boostSum : 1
  return new Map(rooms.map((room) => [room, {
    normalLps: normal.get(room)!, boostLps: boost.get(room)! * scale,
    from: room.airflow?.extractLps !== undefined || room.airflow?.boostLps !== undefined ? 'entered' : isListed(room) ? 'table' : 'assumed',
  }]))
}

function supplyFlows(rooms: readonly Room[], wholeLps: number, boostLps: number): Map<Room, StreamFlow> {
  const normal = sharedBy(rooms, wholeLps, volumeM3, (room) => room.airflow?.supplyLps)
  const boost = sharedBy(rooms, boostLps, (room) => normal.get(room)!, (room) => room.airflow?.boostLps)
  return new Map(rooms.map((room) => [room, {
    normalLps: normal.get(room)!, boostLps: boost.get(room)!,
    from: room.airflow?.supplyLps !== undefined || room.airflow?.boostLps !== undefined ? 'entered' : 'table',
  }]))
}

/** A total shared by weight over those that have no figure of their own; never less than nothing. */
function sharedBy(rooms: readonly Room[], total: number, weightOf: (room: Room) => number, enteredOf: (room: Room) => number | undefined): Map<Room, number> {
  const open = rooms.filter((room) => enteredOf(room) === undefined)
  const left = Math.max(0, total - sum(rooms.map((room) => enteredOf(room) ?? 0)))
  const weights = sum(open.map(weightOf))
  return new Map(rooms.map((room) => [room, enteredOf(room) ?? (weights > 0 ? left * weightOf(room) / weights : left / open.length)]))
}

/** A room's air over its terminals: by the ducts that serve each, and what one may not carry goes to the others. */
function sharedOut(room: Room, stream: 'supply' | 'extract', flow: StreamFlow, all: readonly Equipment[], air: AirSettings, ductAreaMm2: (id: string) => number): Omit<TerminalFlow, 'trickleLps'>[] {
  const weights = all.map((equipment) => ductAreaMm2(equipment.id))
  const isEqual = weights.some((weight) => !(weight > 0))
  const limits = all.map((equipment) => mostOf(equipment, air))
  const spread = (total: number, entered: (number | undefined)[]) => filledUpTo(total, weights.map((weight) => isEqual ? 1 : weight), limits, entered)
  const normal = spread(flow.normalLps, all.map((equipment) => equipment.airflow?.normalLps))
  const boost = spread(flow.boostLps, all.map((equipment) => equipment.airflow?.boostLps))
  return all.map((equipment, i) => ({
    equipment, stream, room, normalLps: normal[i], boostLps: boost[i], mostLps: limits[i],
    from: equipment.airflow?.normalLps !== undefined || equipment.airflow?.boostLps !== undefined ? 'entered' : flow.from,
  }))
}

/** Shares by weight, none above its limit; what all limits together cannot carry is left out. */
export function filledUpTo(total: number, weights: readonly number[], limits: readonly (number | null)[], entered: readonly (number | undefined)[] = []): number[] {
  const shares = weights.map((_, i) => entered[i] ?? 0)
  let left = Math.max(0, total - sum(shares)), open = weights.map((_, i) => i).filter((i) => entered[i] === undefined)
  while (open.length > 0) {
    const whole = sum(open.map((i) => weights[i]))
    const full = open.filter((i) => limits[i] !== null && left * weights[i] / whole > limits[i]!)
    if (full.length === 0) {
      for (const i of open) shares[i] = left * weights[i] / whole
      break
    }
    for (const i of full) {
      shares[i] = limits[i]!
      left -= limits[i]!
    }
    open = open.filter((i) => !full.includes(i))
  }
  return shares
}

function mostOf(equipment: Equipment, air: AirSettings): number | null {
  return equipment.airflow?.mostLps ?? air.mostPerTerminalLps ?? null
}

function totalsOf<K extends string>(terminals: readonly ({ readonly stream: string } & Readonly<Record<K, number>>)[], key: K): Totals {
  const of = (stream: string) => sum(terminals.filter((terminal) => terminal.stream === stream).map((terminal) => terminal[key]))
  return { supplyLps: of('supply'), extractLps: of('extract') }
}

export function floorM2({ outline }: Room): number {
  let twice = 0
  outline.forEach(([x, y], i) => {
    const [nextX, nextY] = outline[(i + 1) % outline.length]
    twice += x * nextY - nextX * y
  })
  return Math.abs(twice) / 2e6
}

export function volumeM3(room: Room): number {
  return floorM2(room) * (room.ceilingMm - room.floorMm) / 1000
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0)
}
