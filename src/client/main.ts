/** The client's file: shows the model that stands in the page. Changes nothing, keeps nothing, asks for nothing. */
import { AIR } from '#scene/air.ts'
import { PLAIN_DUCT } from '#scene/palette.ts'
import { FOR_INFORMATION, type ClientModel, type ClientRun } from '#sheets/client/clientModel.ts'
import { pictureOf, type Picture } from './picture.ts'
import { tourOf } from './tour.ts'

const model = JSON.parse(document.getElementById('model')!.textContent!) as ClientModel

/** An element with text; text never becomes markup. */
function element<K extends keyof HTMLElementTagNameMap>(tag: K, className: string, text = ''): HTMLElementTagNameMap[K] {
  const made = document.createElement(tag)
  made.className = className
  made.textContent = text
  return made
}

function show(into: HTMLElement): void {
  const place = element('div', 'picture'), side = element('aside', 'side'), head = element('header', 'head')
  head.append(element('p', 'sign', 'Joistway'), element('h1', '', model.name), element('p', 'issue', `${model.date === '' ? 'No date' : model.date}${model.revision === '' ? '' : `, revision ${model.revision}`}`), element('p', 'information', FOR_INFORMATION))
  side.append(head)
  into.append(place, side)
  const named = element('div', 'named')
  named.setAttribute('role', 'status')
  let picture: Picture
  let picked: number | null = null
  const buttons = model.runs.map((run, i) => runButton(run, () => pick(picked === i ? null : i)))
  const pick = (index: number | null): void => {
    picked = index
    picture.pickRun(index)
    named.textContent = index === null ? '' : model.runs[index].name
    buttons.forEach((button, i) => button.setAttribute('aria-pressed', String(i === index)))
    if (index !== null) buttons[index].scrollIntoView({ block: 'nearest' })
  }
  try {
    picture = pictureOf(model, place, pick)
  } catch {
    place.replaceChildren(element('p', 'no-picture', 'This browser gives no 3D picture. The list of ducts is beside this.'))
    side.append(listOf(buttons))
    for (const button of buttons) button.disabled = true
    return
  }
  place.append(named)
  side.append(ceilingSlider(picture), tourBar(picture, place), listOf(buttons))
}

function ceilingSlider(picture: Picture): HTMLElement {
  const box = element('div', 'controls'), label = element('label', '', 'Lift the ceiling away'), slider = element('input', '')
  Object.assign(slider, { type: 'range', min: '0', max: '100', step: '1', value: '0', id: 'lift' })
  label.htmlFor = 'lift'
  slider.addEventListener('input', () => picture.liftCeiling(Number(slider.value) / 100))
  box.append(label, slider)
  return box
}

function tourBar(picture: Picture, place: HTMLElement): HTMLElement {
  const stops = tourOf(model, Math.max(0.3, place.clientWidth / Math.max(1, place.clientHeight)))
  const box = element('div', 'controls'), row = element('div', 'tour'), name = element('div', 'stop'), note = element('p', 'stop-note')
  const back = element('button', '', '\u25c0'), on = element('button', '', '\u25b6')
  back.setAttribute('aria-label', 'Stop before')
  on.setAttribute('aria-label', 'Next stop')
  let at = 0
  const go = (to: number): void => {
    at = (to + stops.length) % stops.length
    name.textContent = `${at + 1} of ${stops.length}: ${stops[at].name}`
    note.textContent = stops[at].note
    picture.lookFrom(stops[at])
  }
  back.addEventListener('click', () => go(at - 1))
  on.addEventListener('click', () => go(at + 1))
  name.setAttribute('aria-live', 'polite')
  row.append(back, name, on)
  box.append(row, note)
  go(0)
  return box
}

function runButton({ name, words, air }: ClientRun, pressed: () => void): HTMLButtonElement {
  const button = element('button', ''), swatch = element('span', 'swatch', air in AIR ? AIR[air as keyof typeof AIR].letters : '')
  swatch.style.backgroundColor = air in AIR ? AIR[air as keyof typeof AIR].colour : PLAIN_DUCT
  button.append(swatch, element('span', 'run-name', name), element('span', 'run-words', words))
  button.setAttribute('aria-pressed', 'false')
  button.addEventListener('click', pressed)
  return button
}

function listOf(buttons: readonly HTMLButtonElement[]): HTMLElement {
  const list = element('ul', 'runs')
  for (const button of buttons) {
    const item = element('li', '')
    item.append(button)
    list.append(item)
  }
  return list
}

show(document.getElementById('shown')!)
