import type { Units } from '../../../core/job/index.ts'
import { cableWords } from '../../../core/power/index.ts'
import { readNumber } from '../../ui/index.ts'
import { TextCell } from '../text-cell.tsx'
import { tell } from '../window-state.ts'

const metresPerFoot = 0.3048

/** A length of cable in the job's units: feet or metres, with or without the unit. Empty is not known. */
export function CableLengthCell({
  label,
  metres,
  units,
  locked,
  hint = 'not known',
  onSet,
}: {
  readonly label: string
  readonly metres: number | null
  readonly units: Units
  readonly locked: boolean
  readonly hint?: string
  readonly onSet: (metres: number | null) => unknown
}) {
  return (
    <TextCell
      text={metres === null ? null : cableWords(metres, units)}
      label={label}
      hint={hint}
      locked={locked}
      onSet={(text) => {
        if (text === null) return onSet(null)
        const read = readCableLength(text, units)
        if (read === null)
          return tell({
            weight: 'stop',
            words: `${label}: “${text}” is not understood; expected ${units === 'imperial' ? 'feet, such as 95 ft' : 'metres, such as 29 m'}. Nothing was changed.`,
          })
        return onSet(read)
      }}
    />
  )
}

/** Metres; a bare number is in the job's units. Null where it is no length. */
export function readCableLength(text: string, units: Units): number | null {
  const found = /^(.*?)\s*(ft|feet|foot|'|m|metres?|meters?)?$/i.exec(text.trim())
  const number = readNumber(found?.[1] ?? '')
  if (number === undefined || number === null || number < 0) return null
  const unit = found?.[2]?.toLowerCase()
  const inFeet = unit === undefined ? units === 'imperial' : !unit.startsWith('m')
  return Math.round(number * (inFeet ? metresPerFoot : 1) * 1000) / 1000
}
