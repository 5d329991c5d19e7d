import type { SettingOfPart } from '../../../core/settings/index.ts'
import { TextCell } from '../text-cell.tsx'

/** One value of a setting: its positions to choose from, or a number with the unit of a dial. */
export function SettingField({
  label,
  setting,
  value,
  onSet,
}: {
  readonly label: string
  readonly setting: SettingOfPart
  readonly value: string | null
  readonly onSet: (value: string | null) => unknown
}) {
  const { positions, unit } = setting
  const free = positions.length === 0 || (unit !== null && setting.form !== 'jumper')
  if (free)
    return (
      <TextCell
        text={value}
        label={label}
        hint={unit ?? '—'}
        locked={false}
        choices={positions.map(({ name }) => name)}
        onSet={onSet}
      />
    )
  return (
    <select
      className="cell-input"
      aria-label={label}
      value={value ?? ''}
      onChange={(event) => void onSet(event.currentTarget.value === '' ? null : event.currentTarget.value)}
    >
      <option value="">not known</option>
      {positions.map(({ id, name, meaning, factory }) => (
        <option key={id} value={name}>
          {[name, meaning === null ? '' : `: ${meaning}`, factory ? ' (factory)' : ''].join('')}
        </option>
      ))}
    </select>
  )
}
