import { beforeEach, describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { desk, layOut } from '#app/desk.ts'
import { cutAt, flipCut, moveCut, normalOf, reachOf, settingOf, startCut } from '#app/places/looking/cutting.ts'
import { withLookingHand } from '#app/places/looking/lookingHand.ts'
import { layTapeEnd, turnKind, viewing } from '#app/places/looking/viewing.ts'
import { endChoices } from '#app/places/looking/taping.ts'
import type { Touch } from '#scene/hand.ts'
import type { Selection } from '#scene/selection.ts'
import { frameOf } from '#scene/frame.ts'
import { handleOf, planeOutline } from '#scene/cutAway.ts'
import { failsAt } from '#app/places/trial/trying.ts'
import { contextFor } from '#checks/context.ts'
import { trialList } from '#routing/trialList.ts'
import { clashing } from '../browser/jobs.ts'
import { smallVoid, smallVoidInput, smallVoidJob } from '../scene/smallVoid.ts'

const assembly = smallVoid()
beforeEach(() => {
  viewing.setState({ cut: null, tapeHeld: false, tapeEnds: [null, null], hidden: new Set(), faint: new Set() })
  layOut({ job: assembly.job, assembly, fileName: 'small.json' })
})

describe('a cut-away', () => {
  test('across the joists is square to them, along is beside them, level is level, and distances read from the datum', () => {
    // the joists of the small void go along +x
    expect(normalOf(assembly, 'across')).toEqual([1, 0, 0])
    expect(normalOf(assembly, 'along')).toEqual([0, 1, 0])
    expect(normalOf(assembly, 'level')).toEqual([0, 0, 1])
    const input = smallVoidInput(), turned = assemble(smallVoidJob({ ...input, joistFields: input.joistFields.map((field) => ({ ...field, directionDeg: 180 })), equipment: [], runs: [] }))
    expect(normalOf(turned, 'across')).toEqual([1, 0, 0])
    expect(reachOf([1, 0, 0], [0, -400, 2_390, 4_000, 2_600, 2_720])).toEqual([0, 4_000])
  })

  test('a typed position puts the plane there and keeps its side; the other side is one press away', () => {
    startCut(assembly, 'across')
    moveCut(assembly, 975)
    const { cut } = viewing.getState()
    expect(settingOf(assembly, cut!)).toEqual({ way: 'across', normal: [1, 0, 0], positionMm: 975, keepsLow: false })
    flipCut()
    expect(viewing.getState().cut).toEqual({ at: [975, 0, 0], towards: [1, 0, 0] })
  })

  test('a plane from a file that is askew is told as such and can still be moved along itself', () => {
    const askew = cutAt([0.6, 0.8, 0], 1_000, true)
    viewing.setState({ cut: askew })
    expect(settingOf(assembly, askew).way).toBeNull()
    moveCut(assembly, 1_250)
    expect(settingOf(assembly, viewing.getState().cut!).positionMm).toBeCloseTo(1_250, 9)
  })

  test('its handle is taken before the camera and before the place\u2019s own hand, and pulls the plane to the millimetre', () => {
    viewing.setState({ cut: cutAt([1, 0, 0], 975, true) })
    const handle = handleOf(planeOutline(viewing.getState().cut!, frameOf(assembly).boundsMm))!
    const heard: string[] = []
    const hand = withLookingHand({ press: () => { heard.push('press'); return true }, drag: () => { heard.push('drag') } })
    // looked at straight from above: a px to a millimetre
    const touch = (x: number, y: number): Touch => ({
      x, y, canHover: true, reachPx: 20, pick: () => null, toPx: ([px, py]) => [px, py], ray: { from: [x, y, 9_000], direction: [0, 0, -1] },
    })
    expect(hand.press!(touch(handle[0] + 5, handle[1]))).toBe(true)
    hand.drag!(touch(handle[0] + 5 + 333.3, handle[1] + 80))
    expect(viewing.getState().cut!.at[0]).toBe(975 + 333)
    hand.drop!()
    expect(heard).toEqual([])
    // away from it the place's own hand is asked
    expect(hand.press!(touch(handle[0] + 500, handle[1]))).toBe(true)
    hand.drag!(touch(0, 0))
    expect(heard).toEqual(['press', 'drag'])
  })
})

describe('kinds and the tape', () => {
  test('a kind goes from drawn to faint, to hidden, and back', () => {
    const as = () => [viewing.getState().faint.has('web'), viewing.getState().hidden.has('web')]
    const seen = [as()]
    for (let i = 0; i < 3; i++) {
      turnKind('web')
      seen.push(as())
    }
    expect(seen).toEqual([[false, false], [true, false], [false, true], [false, false]])
  })

  test('two touches lay both ends, a third begins anew; what has no surface lays none, and picks nothing out', () => {
    viewing.setState({ tapeHeld: true })
    const hand = withLookingHand()
    const touching = (pick: Touch['pick']): Touch => ({ x: 0, y: 0, canHover: true, reachPx: 20, toPx: () => null, ray: { from: [0, 0, 0], direction: [0, 0, 1] }, pick })
    expect(hand.tap!(touching(() => ({ kind: 'run', runId: 'R1' })))).toBe(true)
    expect(hand.tap!(touching(() => ({ kind: 'opening', joistIndex: 0, number: 1, at: [0, 0, 0] })))).toBe(true)
    expect(hand.tap!(touching(() => ({ kind: 'solid', solidIndex: 3, at: [0, 0, 0] })))).toBe(true)
    expect(viewing.getState().tapeEnds).toEqual([{ kind: 'run', runIndex: 0 }, { kind: 'solid', solidIndex: 3 }])
    expect(desk.getState().selection).toBeNull()
    layTapeEnd({ kind: 'run', runIndex: 0 })
    expect(viewing.getState().tapeEnds).toEqual([{ kind: 'run', runIndex: 0 }, null])
    viewing.setState({ tapeHeld: false })
    expect(hand.tap!(touching(() => null))).toBe(false)
  })
})

describe('trial sizes', () => {
  test('which runs fail at a size is told from limits worked out once, as the list itself tells for that size', () => {
    const checks = contextFor(assemble(smallVoidJob(clashing())))
    const once = trialList(checks, { growMm: 0 }).rows
    for (const growMm of [-40, 0, 5, 20, 80, 200]) {
      expect(once.map((row) => [row.runId, failsAt(row, growMm)])).toEqual(trialList(checks, { growMm }).rows.map(({ runId, fails }) => [runId, fails]))
    }
  })

  test('progress is told from 0 towards 1 and never goes back', () => {
    const told: number[] = []
    trialList(contextFor(assemble(smallVoidJob(clashing()))), { growMm: 0 }, (doneRatio) => { told.push(doneRatio) })
    // of three sizes for each of two runs, two are found in the first round
    expect(told).toEqual([0, 1 / 3, 2 / 3, 5 / 6].map((ratio) => expect.closeTo(ratio, 12)))
  })
})

describe('the tape', () => {
  const assembly = smallVoid()
  const touch = (picked: Selection | null): Touch => ({ x: 0, y: 0, reachPx: 20, canHover: true, ray: { from: [0, 0, 0], direction: [0, 0, 1] }, toPx: () => null, pick: () => picked })

  test('a touch that lays no end says so, and what to touch instead', () => {
    layOut({ fileName: 'void', job: smallVoidJob(), assembly })
    viewing.setState({ tapeHeld: true })
    const hand = withLookingHand()
    expect(hand.tap?.(touch(null))).toBe(true)
    expect(viewing.getState()).toMatchObject({ tapeEnds: [null, null], tapeMissed: 'Nothing there: touch a duct, a joist or a wall.' })
    hand.tap?.(touch({ kind: 'opening', joistIndex: 0, number: 1, at: [0, 0, 0] }))
    expect(viewing.getState().tapeMissed).toMatch(/chord or a web/)
    hand.tap?.(touch({ kind: 'run', runId: 'R1' }))
    expect(viewing.getState()).toMatchObject({ tapeEnds: [{ kind: 'run', runIndex: 0 }, null], tapeMissed: '' })
    viewing.setState({ tapeHeld: false })
  })

  test('both chords of every joist can be chosen from the list, each thing once', () => {
    const groups = endChoices(assembly)
    const joists = groups.find(({ group }) => group === 'Joists')!.choices
    expect(joists.map(({ words }) => words)).toEqual(['J1', 'J2', 'J3'].flatMap((id) => [expect.stringMatching(new RegExp(`^Joist ${id}, .*chord`)), expect.stringMatching(new RegExp(`^Joist ${id}, .*chord`))]))
    const keys = groups.flatMap(({ choices }) => choices.map(({ key }) => key))
    expect(new Set(keys).size).toBe(keys.length)
  })
})
