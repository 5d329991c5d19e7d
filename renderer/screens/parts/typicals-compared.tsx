import { useState } from 'react'
import type { FedBy } from '../../../core/parts/index.ts'
import { gateMark } from '../../drawing/index.ts'
import { DrawingView } from '../../ui/index.ts'
import { hrefOf } from '../place.ts'
import { useAsked } from '../use-asked.ts'
import { ComparisonView } from './comparison-view.tsx'
import { FedByChoice } from './fed-by.tsx'

/** Typicals side by side: what they do first, then what they are made of. */
export function CompareTypicals({
  typicalIds,
  onBack,
}: {
  readonly typicalIds: readonly string[]
  readonly onBack: () => void
}) {
  const [fedBy, setFedBy] = useState<FedBy>('with a battery')
  const answer = useAsked('typicals.compare', { typicalIds: [...typicalIds], fedBy })
  if (answer === null) return null
  return (
    <ComparisonView
      title={`${answer.names.length} typicals side by side`}
      names={answer.names.map((name, index) => ({
        key: typicalIds[index] ?? name,
        label: (
          <a className="link" href={hrefOf({ sheet: 'typical', typicalId: typicalIds[index] ?? '' })}>
            {name}
          </a>
        ),
      }))}
      sections={answer.sections}
      onBack={onBack}
    >
      {(onlyDiffering) => {
        const rows = answer.behaviour.filter(({ differs }) => differs || !onlyDiffering)
        return (
          <tbody>
            <tr className="group-row">
              <td colSpan={answer.names.length + 1}>
                <span className="compared-doing">
                  What it does
                  <FedByChoice value={fedBy} onChange={setFedBy} />
                </span>
              </td>
            </tr>
            {rows.length === 0 && (
              <tr>
                <td colSpan={answer.names.length + 1} className="soft">
                  They do the same in every condition.
                </td>
              </tr>
            )}
            {rows.map((row) => (
              <tr key={row.condition} className={row.differs && !onlyDiffering ? 'question' : ''}>
                <td className="compared-name">{row.condition}</td>
                {row.lines.map((line, index) => (
                  <td key={typicalIds[index]} className={line === null ? 'soft' : ''}>
                    {line === null ? (
                      '—'
                    ) : (
                      <span className="compared-gate">
                        <DrawingView drawing={gateMark(line.gate)} />
                        <span>
                          {capital(line.latched)}. <span className="soft">{line.because.join(' ')}</span>
                        </span>
                      </span>
                    )}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        )
      }}
    </ComparisonView>
  )
}

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1)
