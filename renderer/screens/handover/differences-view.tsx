import { useState } from 'react'
import type { IssueLine } from '../../../core/contract/index.ts'
import { Choice, EmptySheet } from '../../ui/index.ts'
import { hrefOf } from '../place.ts'
import { useAsked } from '../use-asked.ts'

/** The job as it is now beside a sealed issue. */
export function DifferencesView({
  issues,
  lastSealedId,
}: {
  readonly issues: readonly IssueLine[]
  readonly lastSealedId: string | null
}) {
  const [chosen, setChosen] = useState<string | null>(null)
  const isThere = issues.some(({ issue }) => issue.id === chosen)
  const issueId = isThere ? chosen : lastSealedId
  if (issueId === null)
    return <EmptySheet>No issue was sealed yet, so there is nothing to compare with.</EmptySheet>
  return (
    <>
      <div className="filter-bar">
        <Choice
          label="Since"
          options={issues.flatMap(({ issue, isSealed }) =>
            isSealed ? [{ key: issue.id as string, label: issue.name }] : [],
          )}
          value={issueId}
          onChange={setChosen}
        />
      </div>
      <Since key={issueId} issueId={issueId} />
    </>
  )
}

const changeWords = { added: 'new', removed: 'no longer there', changed: '' } as const

function Since({ issueId }: { readonly issueId: string }) {
  const told = useAsked('handover.differences', { issueId })
  if (told === null) return <p className="padded soft">Comparing…</p>
  const { openings, job } = told.difference
  if (openings.length === 0 && job.length === 0)
    return <p className="padded">Nothing differs from {told.since}.</p>
  return (
    <table className="plain-table differences">
      <thead>
        <tr>
          <th scope="col">What</th>
          <th scope="col">Was</th>
          <th scope="col">Is</th>
        </tr>
      </thead>
      <tbody>
        {job.length > 0 && (
          <tr className="group-row">
            <td colSpan={3}>The job itself</td>
          </tr>
        )}
        {job.map(({ what, before, after }) => (
          <tr key={what}>
            <td className="indent">{what}</td>
            <td className="wrap">{before}</td>
            <td className="wrap">{after}</td>
          </tr>
        ))}
        {openings.map(({ openingId, mark, where, change, differences, consequences }) => [
          <tr key={openingId} className="group-row">
            <td colSpan={3}>
              {change === 'removed' ? (
                mark
              ) : (
                <a className="link" href={hrefOf({ sheet: 'opening', openingId })}>
                  {mark}
                </a>
              )}{' '}
              {where} <span className="soft">{changeWords[change]}</span>
            </td>
          </tr>,
          ...differences.map(({ what, before, after }) => (
            <tr key={`${openingId} ${what}`}>
              <td className="indent">{what}</td>
              <td className="wrap">{before}</td>
              <td className="wrap">{after}</td>
            </tr>
          )),
          ...consequences.map((sentence) => (
            <tr key={`${openingId} ${sentence}`} className="question">
              <td className="indent">Follows from it</td>
              <td colSpan={2}>{sentence}</td>
            </tr>
          )),
        ])}
      </tbody>
    </table>
  )
}
