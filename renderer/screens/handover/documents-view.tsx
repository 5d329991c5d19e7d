import { useRef, useState } from 'react'
import type { KeptDocument } from '../../../core/contract/index.ts'
import { ask } from '../../bridge.ts'
import { Button, EmptySheet, SheetHeading } from '../../ui/index.ts'
import { bytesToBase64, keepFile } from '../files.ts'
import { makeChange, takeOutcome, working, type OpenJob } from '../window-state.ts'
import { bytesWords } from './words.ts'

/** Makers' own documents, each for a part or an opening. */
export function DocumentsView({
  documents,
  job,
  locked,
}: {
  readonly documents: readonly KeptDocument[]
  readonly job: OpenJob
  readonly locked: boolean
}) {
  const [covers, setCovers] = useState('')
  const chosen = useRef<HTMLInputElement>(null)
  const add = async (file: File): Promise<void> => {
    const [field, ...rest] = covers.split(' ')
    const id = rest.join(' ')
    const outcome = await working(`Keeping ${file.name}`, async () =>
      ask('handover.document', {
        name: file.name.replace(/\.pdf$/i, ''),
        fileName: file.name,
        base64: bytesToBase64(await file.arrayBuffer()),
        partId: field === 'part' ? id : null,
        openingId: field === 'opening' ? id : null,
      }),
    )
    if (outcome !== null) takeOutcome(outcome)
  }
  return (
    <>
      <div className="filter-bar">
        <label className="scope-choice">
          Add a PDF that covers{' '}
          <select
            className="plain-select"
            disabled={locked}
            value={covers}
            onChange={(event) => setCovers(event.currentTarget.value)}
          >
            <option value="">choose first…</option>
            <optgroup label="Part">
              {job.parts.map(({ id, name }) => (
                <option key={id} value={`part ${id}`}>
                  {name}
                </option>
              ))}
            </optgroup>
            <optgroup label="Opening">
              {[...job.rows.values()].map(({ id, mark }) => (
                <option key={id} value={`opening ${id}`}>
                  {mark}
                </option>
              ))}
            </optgroup>
          </select>
        </label>
        <Button disabled={locked || covers === ''} onPress={() => chosen.current?.click()}>
          Choose the PDF…
        </Button>
        <input
          ref={chosen}
          type="file"
          hidden
          accept=".pdf,application/pdf"
          aria-label="Maker’s document as PDF"
          onChange={(event) => {
            const [file] = event.currentTarget.files ?? []
            event.currentTarget.value = ''
            if (file !== undefined) void add(file)
          }}
        />
      </div>
      {documents.length === 0 ? (
        <EmptySheet>No documents yet. Choose what a PDF covers, then the file.</EmptySheet>
      ) : (
        <Documents documents={documents} locked={locked} />
      )}
    </>
  )
}

async function open({ name, sha256, mediaType }: KeptDocument['document']): Promise<void> {
  if (sha256 === null) return
  const kept = await working('Fetching the document', () => ask('attachment.read', { sha256 }))
  if (kept !== null)
    keepFile({
      fileName: /\.pdf$/i.test(name) ? name : `${name}.pdf`,
      mediaType: mediaType ?? 'application/pdf',
      base64: kept.base64,
      pages: null,
      warnings: [],
    })
}

function Documents({
  documents,
  locked,
}: {
  readonly documents: readonly KeptDocument[]
  readonly locked: boolean
}) {
  return (
    <>
      <SheetHeading level={2} title="Documents" facts={`${documents.length} of the job`} />
      <table className="plain-table">
        <thead>
          <tr>
            <th scope="col">Document</th>
            <th scope="col">Covers</th>
            <th scope="col">Reference</th>
            <th scope="col">Kept</th>
            <th scope="col">
              <span className="for-ears">Deeds</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {documents.map(({ document, covers }) => (
            <tr key={document.id}>
              <td>
                {document.sha256 === null ? (
                  document.name
                ) : (
                  <button type="button" className="link" onClick={() => void open(document)}>
                    {document.name}
                  </button>
                )}
              </td>
              <td>{covers === '' ? <span className="soft">the job</span> : covers}</td>
              <td>{document.reference}</td>
              <td>{document.sha256 === null ? 'referred to only' : bytesWords(document.byteCount ?? 0)}</td>
              <td className="deeds">
                <Button
                  kind="quiet"
                  disabled={locked}
                  label={`Remove ${document.name}`}
                  onPress={() =>
                    void makeChange({
                      does: 'change records',
                      name: `Remove the document ${document.name}`.slice(0, 200),
                      add: [],
                      set: [],
                      remove: [{ kind: 'document', id: document.id }],
                    })
                  }
                >
                  Remove
                </Button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  )
}
