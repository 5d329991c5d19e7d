import type { IssueLine } from '../../../core/contract/index.ts'
import { ask } from '../../bridge.ts'
import { EmptySheet, SheetHeading } from '../../ui/index.ts'
import { keep } from '../keep.ts'
import { working } from '../window-state.ts'
import { bytesWords } from './words.ts'

async function keepAgain(issueDocumentId: string): Promise<void> {
  const made = await working('Fetching the file', () => ask('handover.kept', { issueDocumentId }))
  if (made !== null) keep(made)
}

/** Sealed states with who, when and the hashes of what went out. */
export function IssuesView({ issues }: { readonly issues: readonly IssueLine[] }) {
  if (issues.length === 0)
    return <EmptySheet>No issue yet. Seal one when the schedule goes out, or at handover.</EmptySheet>
  return issues.map(({ issue, isSealed, documents }) => (
    <section key={issue.id} aria-label={issue.name}>
      <SheetHeading
        level={2}
        title={issue.name}
        facts={[
          isSealed ? 'sealed' : 'not sealed: only noted',
          issue.at?.slice(0, 16).replace('T', ' '),
          issue.who,
          issue.notes,
        ]
          .filter((each) => each != null && each !== '')
          .join(', ')}
      />
      {documents.length > 0 && (
        <table className="plain-table">
          <thead>
            <tr>
              <th scope="col">File</th>
              <th scope="col" className="end">
                Size
              </th>
              <th scope="col">SHA-256</th>
            </tr>
          </thead>
          <tbody>
            {documents.map(({ id, name, sha256, byteCount }) => (
              <tr key={id}>
                <td>
                  <button type="button" className="link" onClick={() => void keepAgain(id)}>
                    {name}
                  </button>
                </td>
                <td className="end">{bytesWords(byteCount)}</td>
                <td className="hash">{sha256}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  ))
}
