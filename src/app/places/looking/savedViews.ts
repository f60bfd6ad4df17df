/** Views kept in the job, with a note for whoever is shown them. */
import { nextId } from '#commands/index.ts'
import type { View } from '#model/index.ts'
import type { Xyz } from '#scene/frame.ts'
import { turnTo } from '../../desk.ts'
import { bench } from '../../editing/theBench.ts'
import { lookNow, viewing } from './viewing.ts'

/** Keeps what is looked at now, under a name: a step like any other. @returns why not, or null */
export function keepView(name: string, note: string): string | null {
  const look = lookNow.read?.(), { history } = bench.store.getState()
  if (look === undefined || history === null) return 'there is no picture to keep'
  const { hidden, faint, cut } = viewing.getState()
  const done = bench.perform({
    do: 'add-view',
    view: {
      id: nextId(history.present, 'views') as View['id'], ...name.trim() === '' ? {} : { name: name.trim() }, note, hidden: [...hidden],
      eye: look.eyeMm.map(rounded) as [number, number, number], target: look.targetMm.map(rounded) as [number, number, number],
      ...faint.size === 0 ? {} : { faint: [...faint] },
      ...cut === null ? {} : { cut: { at: [...cut.at], towards: [...cut.towards] } },
    },
  })
  return done.ok ? null : done.why
}

/** Stands there again, with the same kinds hidden or faint and the same cut. */
export function goToView({ eye, target, hidden, faint, cut }: View): void {
  viewing.setState({ hidden: new Set(hidden), faint: new Set(faint), cut: cut === undefined ? null : { at: cut.at, towards: unit(cut.towards) } })
  turnTo({ eyeMm: eye, targetMm: target })
}

function unit([x, y, z]: Xyz): Xyz {
  const size = Math.hypot(x, y, z)
  return [x / size, y / size, z / size]
}

const rounded = (mm: number): number => Math.round(mm * 10) / 10
