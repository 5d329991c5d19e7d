import { readNumber } from '../../ui/index.ts'
import { TextCell } from '../text-cell.tsx'
import { tell } from '../window-state.ts'

/** A temperature, which may be below nothing. Empty is not known. */
export function DegreesCell({
  label,
  value,
  hint = 'not known',
  locked,
  onSet,
}: {
  readonly label: string
  readonly value: number | null
  readonly hint?: string
  readonly locked: boolean
  readonly onSet: (value: number | null) => unknown
}) {
  return (
    <TextCell
      text={value === null ? null : String(value)}
      label={label}
      hint={hint}
      locked={locked}
      onSet={(text) => {
        const read = text === null ? null : readNumber(text)
        if (read === undefined)
          return tell({
            weight: 'stop',
            words: `${label}: “${text ?? ''}” is not understood; expected degrees Celsius, such as 20. Nothing was changed.`,
          })
        return onSet(read)
      }}
    />
  )
}
