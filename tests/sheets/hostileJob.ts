/** A small job of which every name and note means harm: scripts, formulas, ways out of a folder, writing turned round. Names may not hold control characters; the reader of jobs sees to that. */
import type { Job } from '#model/index.ts'
import { jobOf, oneJoist } from '../checks/smallJob.ts'

export const HARM = [
  '<script>document.title=\'hit\'</script>', '"><img src=x onerror="document.title=\'hit\'">', '\'-alert(1)-\'', ']]></text><script>alert(1)</script>', '</script><script>document.title=\'hit\'</script>',
  '=HYPERLINK("https://example.com","x")', '+1+cmd|\' /C calc\'!A0', '@SUM(1)', '-2+3', '../../../etc/passwd', '..\\..\\windows\\system32', 'CON', 'x\u202egnp.exe', 'a;=1+1', '${7*7}{{7*7}}', 'javascript:alert(1)',
  '<!--', '&#x3c;script&#x3e;', '\'); DROP', '#1=IFCWALL($);\'', 'a\\X2\\0041', '(Tj) ET', '%PDF', 'NaN', '\ufeff=1',
] as const

export function hostileJob(): Job {
  const name = (i: number): string => HARM[i % HARM.length]
  const runs = HARM.map((_, i) => ({
    id: `R${i}`, name: name(i), type: i % 2 === 0 ? 'd90' : 'r125', from: { equipment: 'A', spigot: `s${i}` }, to: { sleeve: `w${i}` },
    waypoints: [{ at: [i * 200, -400, 110] as [number, number, number] }, { at: [i * 200, 400, 110] as [number, number, number] }], note: name(i + 1), group: name(i + 2),
  }))
  return jobOf({
    ...oneJoist(undefined, { name: name(4), lengthMm: 6000, joists: [{ id: 'J1', name: name(0) }, { id: 'J2', name: name(5), positionMm: 600 }] }),
    name: HARM[0], note: HARM.join('\n'), datum: HARM.join('\t'),
    rooms: [{ id: 'room', name: name(1), outline: [[-1000, -3000], [8000, -3000], [8000, 3000], [-1000, 3000]] }],
    zones: [{ id: 'z', name: name(2), outline: [[-1000, -3000], [8000, -3000], [8000, 3000], [-1000, 3000]], undersideMm: 0, topMm: 300 }],
    solids: [{ id: 'wall', name: name(3), class: 'wall', shape: { kind: 'box', centre: [0, 2000, 0], sizeMm: [100, 100, 100] }, note: name(4) }],
    sleeves: HARM.map((_, i) => ({ id: `w${i}`, name: name(i + 5), at: [i * 200, 400, 110], axis: [0, 1, 0], diameterMm: 200, lengthMm: 50, through: ['wall'] })),
    equipment: [{
      id: 'A', name: name(6), kind: 'manifold', centre: [2400, -500, 110], sizeMm: [5200, 120, 200],
      spigots: HARM.map((_, i) => ({ id: `s${i}`, at: [i * 200 - 2400, 100, 0], axis: [0, 1, 0], diameterMm: i % 2 === 0 ? 90 : 125, lengthMm: 40 })),
    }, { id: 'P', name: name(7), kind: 'plenum', centre: [6000, 1000, 100], sizeMm: [100, 100, 100], spigots: [] }],
    runs,
    views: [{ id: 'v', name: name(0), note: name(4), eye: [0, -4000, 2000], target: [2000, 0, 0] }],
  })
}
