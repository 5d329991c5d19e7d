// Cells of the part and typical pages, each written when it is left.
import { readLength, sentenceAbout, writeLength, type Units } from '../../../core/job/index.ts'
import { readNumber } from '../../ui/index.ts'
import { TextCell } from '../text-cell.tsx'
import { tell } from '../window-state.ts'

interface Cell {
  readonly label: string
  readonly locked: boolean
}

const stop = (words: string): void => tell({ weight: 'stop', words })

/** One of several words. `none` is what an empty value is called; left out, there is no empty value. */
export function SelectCell({
  label,
  value,
  options,
  none,
  locked,
  onSet,
}: Cell & {
  readonly value: string | null
  readonly options: readonly (string | { readonly key: string; readonly label: string })[]
  readonly none?: string
  readonly onSet: (value: string | null) => unknown
}) {
  return (
    <select
      className="cell-input"
      aria-label={label}
      value={value ?? ''}
      disabled={locked}
      onChange={(event) => void onSet(event.currentTarget.value === '' ? null : event.currentTarget.value)}
    >
      {none !== undefined && <option value="">{none}</option>}
      {options.map((option) => {
        const { key, label: words } = typeof option === 'string' ? { key: option, label: option } : option
        return (
          <option key={key} value={key}>
            {words}
          </option>
        )
      })}
    </select>
  )
}

/** Yes, no, and where it may be so, not known. */
export function YesNoCell({
  value,
  onSet,
  mayBeUnknown = false,
  ...cell
}: Cell & {
  readonly value: boolean | null
  readonly mayBeUnknown?: boolean
  readonly onSet: (value: boolean | null) => unknown
}) {
  return (
    <SelectCell
      {...cell}
      value={value === null ? null : value ? 'yes' : 'no'}
      options={['yes', 'no']}
      {...(mayBeUnknown ? { none: 'not known' } : {})}
      onSet={(words) => onSet(words === null ? null : words === 'yes')}
    />
  )
}

/** A number that is not below nothing. Empty is not known, which is not 0. */
export function AmountCell({
  label,
  value,
  unit,
  whole = false,
  hint = 'not known',
  locked,
  onSet,
}: Cell & {
  readonly value: number | null
  readonly unit: string
  readonly whole?: boolean
  /** What stands where nothing is known. */
  readonly hint?: string
  readonly onSet: (value: number | null) => unknown
}) {
  const example = whole ? '24' : '0.25'
  return (
    <TextCell
      text={value === null ? null : String(value)}
      label={label}
      hint={hint}
      locked={locked}
      onSet={(text) => {
        const read = text === null ? null : readNumber(text)
        if (read === undefined || (read !== null && (read < 0 || (whole && !Number.isInteger(read)))))
          return stop(
            `${label}: “${text ?? ''}” is not understood; expected ${whole ? 'a whole number' : 'a number'} in ${unit}, such as ${example}. Nothing was changed.`,
          )
        return onSet(read)
      }}
    />
  )
}

/** A length in the job’s units. */
export function LengthCell({
  label,
  value,
  units,
  locked,
  onSet,
}: Cell & {
  readonly value: number | null
  readonly units: Units
  readonly onSet: (value: number | null) => unknown
}) {
  return (
    <TextCell
      text={value === null ? null : writeLength(value, units, { style: 'inches' })}
      label={label}
      hint="not known"
      locked={locked}
      onSet={(text) => {
        if (text === null) return onSet(null)
        const read = readLength(text, { units })
        return read.known ? onSet(read.value) : stop(`${label}: ${sentenceAbout(text, read)}`)
      }}
    />
  )
}

/** Names with commas between, each of those there are. */
export function NamesCell({
  label,
  value,
  among,
  locked,
  onSet,
}: Cell & {
  readonly value: readonly string[]
  readonly among: readonly string[]
  readonly onSet: (value: readonly string[]) => unknown
}) {
  return (
    <TextCell
      text={value.length === 0 ? null : value.join(', ')}
      label={label}
      hint="none"
      locked={locked}
      choices={among}
      onSet={(text) => {
        const names = (text ?? '')
          .split(',')
          .map((each) => each.trim())
          .filter((each) => each !== '')
        const stranger = names.find((each) => !among.includes(each))
        if (stranger === undefined) return onSet([...new Set(names)])
        const expected =
          among.length === 0 ? 'nothing, since the part has no hardware' : `some of ${among.join(', ')}`
        return stop(`${label}: this part has no “${stranger}”; expected ${expected}. Nothing was changed.`)
      }}
    />
  )
}
