// Lengths as a tape measure and a drill index show them.
import { micrometresPerInch, writeLength, type Units } from '../job/index.ts'

/** Nearest 1/16 in. or 1 mm: 7/8", 22 mm; below zero on the other side of a middle line. */
export function tapeText(micrometres: number, units: Units): string {
  const text = writeLength(Math.abs(micrometres), units, { style: 'inches', nearest: true })
  const withUnit = units === 'metric' && !text.endsWith('mm') ? `${text} mm` : text
  return micrometres < 0 && /[1-9]/.test(text) ? `-${withUnit}` : withUnit
}

const sixtyFourths = (micrometres: number): boolean =>
  Math.round((Math.round((micrometres * 64) / micrometresPerInch) * micrometresPerInch) / 64) === micrometres

/** A drill's size is never rounded to the tape: in millimetres the inch size it stands for follows in brackets. */
export function drillText(micrometres: number, units: Units): string {
  if (units === 'imperial') return writeLength(micrometres, 'imperial', { style: 'inches' })
  const millimetres = `${Math.round(micrometres / 100) / 10} mm`
  const isWhole = micrometres % 500 === 0
  return !isWhole && sixtyFourths(micrometres)
    ? `${millimetres} (${writeLength(micrometres, 'imperial', { style: 'inches' })})`
    : millimetres
}
