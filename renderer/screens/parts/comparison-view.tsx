import { useState, type ReactNode } from 'react'
import type { ComparedSection } from '../../../core/parts/index.ts'
import { Button, Checkbox, SheetHeading } from '../../ui/index.ts'

/** Things side by side: only what differs, or all. */
export function ComparisonView({
  title,
  names,
  sections,
  children,
  onBack,
}: {
  readonly title: string
  readonly names: readonly { readonly key: string; readonly label: ReactNode }[]
  readonly sections: readonly ComparedSection[]
  /** Rows of another form above the sections; told whether to leave out what is alike. */
  readonly children?: (onlyDiffering: boolean) => ReactNode
  readonly onBack: () => void
}) {
  const [onlyDiffering, setOnlyDiffering] = useState(true)
  const shown = sections
    .map((section) => ({
      ...section,
      rows: onlyDiffering ? section.rows.filter(({ differs }) => differs) : section.rows,
    }))
    .filter(({ rows }) => rows.length > 0)
  return (
    <div className="page compare-page">
      <SheetHeading
        title={title}
        facts={onlyDiffering ? 'only what differs' : 'everything, side by side'}
        actions={
          <>
            <Checkbox checked={onlyDiffering} onChange={setOnlyDiffering}>
              Only what differs
            </Checkbox>
            <Button onPress={onBack}>Back to the list</Button>
          </>
        }
      />
      <table className="plain-table compared">
        <thead>
          <tr>
            <th scope="col">
              <span className="for-ears">What is compared</span>
            </th>
            {names.map(({ key, label }) => (
              <th key={key} scope="col">
                {label}
              </th>
            ))}
          </tr>
        </thead>
        {children?.(onlyDiffering)}
        {shown.map((section) => (
          <tbody key={section.title}>
            <tr className="group-row">
              <td colSpan={names.length + 1}>{section.title}</td>
            </tr>
            {section.rows.map((row) => (
              <tr key={row.name} className={row.differs && !onlyDiffering ? 'question' : ''}>
                <td className="compared-name">{row.name}</td>
                {row.values.map((value, index) => (
                  <td key={names[index]?.key ?? index} className={value === null ? 'soft' : ''}>
                    {value ?? '—'}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        ))}
      </table>
      {shown.length === 0 && children === undefined && (
        <p className="padded soft">They do not differ in anything that is known of them.</p>
      )}
    </div>
  )
}
