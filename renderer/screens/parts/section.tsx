import type { ReactNode } from 'react'
import { Button, SheetHeading } from '../../ui/index.ts'

/** A section of the part page: heading, a small table or facts, and one way to add a row. */
export function Section({
  title,
  facts,
  add,
  onAdd,
  locked,
  children,
}: {
  readonly title: string
  readonly facts?: string
  /** The words of the button that adds a row. */
  readonly add?: string
  readonly onAdd?: () => unknown
  readonly locked: boolean
  readonly children: ReactNode
}) {
  return (
    <section aria-label={title} className="part-section">
      <SheetHeading
        level={2}
        title={title}
        {...(facts === undefined ? {} : { facts })}
        actions={
          add !== undefined &&
          !locked && (
            <Button kind="quiet" onPress={() => void onAdd?.()}>
              {add}
            </Button>
          )
        }
      />
      {children}
    </section>
  )
}

/** Column headings; an empty one is for the deeds of a row. */
export const Headings = ({ names }: { readonly names: readonly string[] }) => (
  <thead>
    <tr>
      {names.map((name) => (
        <th key={name} scope="col">
          {name === '' ? <span className="for-ears">Deeds</span> : name}
        </th>
      ))}
    </tr>
  </thead>
)

export function RemoveCell({
  what,
  locked,
  onRemove,
}: {
  readonly what: string
  readonly locked: boolean
  readonly onRemove: () => unknown
}) {
  return (
    <td className="deeds">
      {!locked && (
        <Button kind="quiet" label={`Remove ${what}`} onPress={() => void onRemove()}>
          Remove
        </Button>
      )}
    </td>
  )
}
