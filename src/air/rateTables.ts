/** Published ventilation rates as data: document, edition, clause or table, and how far each was seen. */
import type { RateTableId, Room } from '#model/index.ts'
import type { Source } from './sources.ts'

export type RoomUse = Room['use']

/** How the air of a whole dwelling follows from its size. */
export type WholeRule =
  | {
    /** the larger of the two */
    readonly kind: 'larger'
    readonly perM2Lps: number
    /** for 1, 2, 3, ... bedrooms */
    readonly bedroomsLps: readonly number[]
    readonly furtherBedroomLps: number
    /** for a dwelling of one habitable room, in place of the bedrooms' */
    readonly oneHabitableRoomLps: number
  }
  | { readonly kind: 'sum', readonly perM2Lps: number, readonly perPersonLps: number, readonly leastBedrooms: number }
  | {
    /** rows by floor area, columns by bedrooms */
    readonly kind: 'grid'
    /** largest area of each row but the last, m² */
    readonly areasM2: readonly number[]
    /** most bedrooms of each column but the last */
    readonly bedrooms: readonly number[]
    readonly lps: readonly (readonly number[])[]
  }

export interface RateTable {
  readonly id: RateTableId
  readonly country: string
  readonly whole: { readonly rule: WholeRule, readonly source: Source }
  /** extract at the high rate (on demand), by the room's use; what is not in it is not extracted from */
  readonly extract: { readonly highLps: Readonly<Partial<Record<RoomUse, number>>>, readonly source: Source }
  /** supply to habitable rooms, shared by volume */
  readonly supply: { readonly habitable: readonly RoomUse[], readonly source: Source }
  readonly undercut: { readonly mm2: number, readonly source: Source }
}

const AD_F = { document: 'Approved Document F volume 1: Dwellings (England)', edition: '2021', mark: 'read' } as const
const CFM = 0.3048 ** 3 / 60 * 1000
const SQUARE_FOOT = 0.3048 ** 2
const HABITABLE: readonly RoomUse[] = ['living', 'bedroom', 'study', 'dining']
const SHARED: Source = { document: 'sharing by room volume', mark: 'common practice' }
const TRANSFER: Source = { ...AD_F, at: '1.25: 10 mm under a door 760 mm wide' }
const cfm = (flow: number): number => flow * CFM

export const RATES: Readonly<Record<RateTableId, RateTable>> = {
  'england-ad-f-2021': {
    id: 'england-ad-f-2021', country: 'England',
    whole: {
      rule: { kind: 'larger', perM2Lps: 0.3, bedroomsLps: [19, 25, 31, 37, 43], furtherBedroomLps: 6, oneHabitableRoomLps: 13 },
      source: { ...AD_F, at: '1.24 and Table 1.3' },
    },
    extract: { highLps: { kitchen: 13, utility: 8, bathroom: 8, wc: 6 }, source: { ...AD_F, at: 'Table 1.2, high rate, and 1.70 to 1.72' } },
    supply: { habitable: HABITABLE, source: { ...AD_F, at: '1.67' } },
    undercut: { mm2: 7_600, source: TRANSFER },
  },
  'ashrae-62-2': {
    id: 'ashrae-62-2', country: 'United States',
    whole: {
      rule: { kind: 'sum', perM2Lps: 0.15, perPersonLps: 3.5, leastBedrooms: 1 },
      source: { document: 'ASHRAE Standard 62.2', edition: '2013 and later', at: 'equation 4.1b', mark: 'restated' },
    },
    extract: { highLps: { kitchen: cfm(100), bathroom: cfm(50) }, source: { document: 'ASHRAE Standard 62.2', edition: '2013 and later', at: 'Table 5.1, on demand', mark: 'restated' } },
    supply: { habitable: HABITABLE, source: SHARED },
    undercut: { mm2: 7_600, source: TRANSFER },
  },
  'irc-m1505': {
    id: 'irc-m1505', country: 'United States',
    whole: {
      rule: {
        kind: 'grid',
        areasM2: [1_500, 3_000, 4_500, 6_000, 7_500].map((ft2) => ft2 * SQUARE_FOOT), bedrooms: [1, 3, 5, 7],
        lps: [30, 45, 60, 75, 90, 105].map((least) => [0, 15, 30, 45, 60].map((more) => cfm(least + more))),
      },
      source: { document: 'International Residential Code', edition: '2018 and 2021', at: 'Table M1505.4.3(1)', mark: 'restated' },
    },
    // the IRC's local rates are as the IMC restates them
    extract: { highLps: { kitchen: cfm(100), bathroom: cfm(50) }, source: { document: 'International Mechanical Code', at: '403.3, local extract, intermittent', mark: 'restated' } },
    supply: { habitable: HABITABLE, source: SHARED },
    undercut: { mm2: 7_600, source: TRANSFER },
  },
}

/** In the dwelling's own words: what the rule is applied to. */
export interface Dwelling {
  readonly floorAreaM2: number
  readonly bedrooms: number
  readonly habitableRooms: number
}

/** Whole-dwelling rate, l/s, and which part of the rule decided. */
export function wholeRateLps({ whole: { rule } }: RateTable, { floorAreaM2, bedrooms, habitableRooms }: Dwelling): { readonly lps: number, readonly decidedBy: 'floor area' | 'bedrooms' | 'one habitable room' | 'both' } {
  switch (rule.kind) {
    case 'larger': {
      const byAreaLps = rule.perM2Lps * floorAreaM2
      const isOneRoom = habitableRooms <= 1
      const listed = rule.bedroomsLps
      // a dwelling with several habitable rooms but no bedroom is taken as one with one bedroom
      const counted = Math.max(1, bedrooms)
      const byRoomsLps = isOneRoom ? rule.oneHabitableRoomLps
        : counted <= listed.length ? listed[counted - 1] : listed[listed.length - 1] + rule.furtherBedroomLps * (counted - listed.length)
      return byAreaLps > byRoomsLps ? { lps: byAreaLps, decidedBy: 'floor area' } : { lps: byRoomsLps, decidedBy: isOneRoom ? 'one habitable room' : 'bedrooms' }
    }
    case 'sum':
      return { lps: rule.perM2Lps * floorAreaM2 + rule.perPersonLps * (Math.max(bedrooms, rule.leastBedrooms) + 1), decidedBy: 'both' }
    case 'grid': {
      const row = placeIn(rule.areasM2, floorAreaM2), column = placeIn(rule.bedrooms, bedrooms)
      return { lps: rule.lps[row][column], decidedBy: 'both' }
    }
  }
}

function placeIn(limits: readonly number[], value: number): number {
  const at = limits.findIndex((limit) => value <= limit * (1 + 1e-12))
  return at < 0 ? limits.length : at
}
