import { fedBys, type FedBy } from '../../../core/parts/index.ts'

const words: Readonly<Record<FedBy, string>> = {
  'not known': 'Fed by: not known',
  'with a battery': 'Fed by a supply with a battery',
  'without a battery': 'Fed by a supply without a battery',
}

/** What is taken for granted of the feed while looking; nothing of it is written. */
export function FedByChoice({
  value,
  onChange,
}: {
  readonly value: FedBy
  readonly onChange: (value: FedBy) => void
}) {
  return (
    <select
      className="fed-by"
      aria-label="What is taken for granted of the feed"
      value={value}
      onChange={(event) => onChange(event.currentTarget.value as FedBy)}
    >
      {fedBys.map((each) => (
        <option key={each} value={each}>
          {words[each]}
        </option>
      ))}
    </select>
  )
}
