import type { PartPage } from '../../../core/contract/index.ts'
import { reachWords } from '../../../core/parts/index.ts'
import { ask } from '../../bridge.ts'
import { Button, SheetHeading } from '../../ui/index.ts'
import { NameCell } from '../job/index.ts'
import { openPartsDialog } from '../parts-dialog-state.ts'
import { goTo, hrefOf } from '../place.ts'
import { TextCell } from '../text-cell.tsx'
import { useAsked } from '../use-asked.ts'
import { useWindow } from '../window-state.ts'
import { AmountCell } from './cells.tsx'
import { PartDoing } from './part-behaviour.tsx'
import { PartBody } from './part-body.tsx'
import { PartContacts } from './part-contacts.tsx'
import { PartElectrical } from './part-electrical.tsx'
import { PartSettings } from './part-settings.tsx'
import { addRecords, removeRecord, setRecord, settled, useExplaining, type Fields } from './part-state.ts'
import { PartsDialogs } from './parts-dialogs.tsx'
import { Headings, RemoveCell, Section } from './section.tsx'
import './parts.css'

/** One part: all that is known of it, each changed where it stands. */
export function PartSheet({ partId }: { readonly partId: string }) {
  const job = useWindow((state) => state.job)
  const page = useAsked('part.read', { partId })
  useExplaining()
  const [part] = page?.records.part ?? []
  if (job === null || page === null || part === undefined) return null
  const locked = job.state.readOnly !== null
  const { units } = job.frame.job
  const set = (fields: Fields) => setRecord(`Change ${part.name}`, 'part', part.id, fields)
  const section = { of: page.records, part, locked }
  return (
    <div className="page part-page">
      <SheetHeading
        title={part.name}
        facts={reachWords(page.use)}
        actions={
          <>
            <Button onPress={() => goTo({ sheet: 'parts' })}>All parts</Button>
            <Button
              disabled={locked}
              onPress={() => openPartsDialog({ form: 'new part', likePartId: part.id })}
            >
              Copy
            </Button>
            <Button
              kind="danger"
              disabled={locked}
              onPress={() =>
                void ask('part.remove', { partId: part.id }).then((answer) => {
                  // Away first: the page of a part that is gone would lead to the schedule.
                  if (answer.ok) goTo({ sheet: 'parts' })
                  settled(answer)
                })
              }
            >
              Remove
            </Button>
          </>
        }
      />
      <p className="part-does">{page.does}</p>
      <dl className="fact-grid">
        <div>
          <dt>Name</dt>
          <dd>
            <NameCell name={part.name} label="Name" locked={locked} onSet={(name) => void set({ name })} />
          </dd>
        </div>
        <div>
          <dt>Kind</dt>
          <dd>
            <TextCell
              text={part.kind}
              label="Kind"
              locked={locked}
              choices={page.kinds}
              onSet={(kind) => kind !== null && set({ kind })}
            />
          </dd>
        </div>
        <div>
          <dt>Model</dt>
          <dd>
            <TextCell text={part.model} label="Model" locked={locked} onSet={(model) => set({ model })} />
          </dd>
        </div>
        <div>
          <dt>Warranty, months</dt>
          <dd>
            <AmountCell
              label="Warranty"
              value={part.warrantyMonths}
              unit="months"
              whole
              locked={locked}
              onSet={(warrantyMonths) => set({ warrantyMonths })}
            />
          </dd>
        </div>
        <div className="wide">
          <dt>Description</dt>
          <dd>
            <TextCell
              text={part.description}
              label="Description"
              locked={locked}
              onSet={(description) => set({ description })}
            />
          </dd>
        </div>
        <div className="wide">
          <dt>Notes</dt>
          <dd>
            <TextCell text={part.notes} label="Notes" locked={locked} onSet={(notes) => set({ notes })} />
          </dd>
        </div>
      </dl>
      <PartDoing {...section} />
      <PartContacts {...section} />
      <PartSettings {...section} />
      <PartElectrical {...section} />
      <PartBody {...section} units={units} />
      <Documents page={page} partName={part.name} partId={part.id} locked={locked} />
      <Spares page={page} partName={part.name} partId={part.id} locked={locked} />
      <WhereUsed page={page} locked={locked} />
      <PartsDialogs />
    </div>
  )
}

interface Listed {
  readonly page: PartPage
  readonly partName: string
  readonly partId: string
  readonly locked: boolean
}

function Documents({ page, partName, partId, locked }: Listed) {
  return (
    <Section
      title="Documents"
      facts="data sheets, instructions, listings"
      add="Add a document"
      locked={locked}
      onAdd={() =>
        addRecords(`Add a document to ${partName}`, {
          kind: 'document',
          record: {
            name: 'Data sheet',
            form: null,
            mediaType: null,
            sha256: null,
            byteCount: null,
            reference: null,
            partId,
            openingId: null,
            fittingId: null,
            proofId: null,
            visitId: null,
            notes: null,
          },
        })
      }
    >
      {page.documents.length === 0 ? (
        <p className="padded soft">No document is named for it.</p>
      ) : (
        <table className="plain-table">
          <Headings names={['Document', 'Form', 'Where it is', 'Notes', '']} />
          <tbody>
            {page.documents.map((each) => {
              const set = (fields: Fields) =>
                setRecord(`Change document ${each.name} of ${partName}`, 'document', each.id, fields)
              return (
                <tr key={each.id}>
                  <td className="mark">
                    <NameCell
                      name={each.name}
                      label="Document"
                      locked={locked}
                      onSet={(name) => void set({ name })}
                    />
                  </td>
                  <td>
                    <TextCell
                      text={each.form}
                      label={`Form of ${each.name}`}
                      locked={locked}
                      onSet={(form) => set({ form })}
                    />
                  </td>
                  <td>
                    {each.sha256 === null ? (
                      <TextCell
                        text={each.reference}
                        label={`Where ${each.name} is`}
                        locked={locked}
                        onSet={(reference) => set({ reference })}
                      />
                    ) : (
                      'kept in this job'
                    )}
                  </td>
                  <td>
                    <TextCell
                      text={each.notes}
                      label={`Notes on ${each.name}`}
                      locked={locked}
                      onSet={(notes) => set({ notes })}
                    />
                  </td>
                  <RemoveCell
                    what={`document ${each.name}`}
                    locked={locked}
                    onRemove={() =>
                      removeRecord(`Remove document ${each.name} of ${partName}`, 'document', each.id)
                    }
                  />
                </tr>
              )
            })}
          </tbody>
        </table>
      )}
    </Section>
  )
}

function Spares({ page, partName, partId, locked }: Listed) {
  return (
    <Section
      title="Spares"
      facts="kept for later"
      add="Add spares"
      locked={locked}
      onAdd={() =>
        addRecords(`Add a spare of ${partName}`, {
          kind: 'spare',
          record: { partId, count: 1, whereKept: null, notes: null },
        })
      }
    >
      {page.spares.length === 0 ? (
        <p className="padded soft">None.</p>
      ) : (
        <table className="plain-table narrow-table">
          <Headings names={['How many', 'Where they are kept', 'Notes', '']} />
          <tbody>
            {page.spares.map((each) => {
              const set = (fields: Fields) =>
                setRecord(`Change the spares of ${partName}`, 'spare', each.id, fields)
              return (
                <tr key={each.id}>
                  <td className="narrow">
                    <AmountCell
                      label="How many spares"
                      value={each.count}
                      unit="pieces"
                      whole
                      locked={locked}
                      onSet={(count) => count !== null && set({ count })}
                    />
                  </td>
                  <td>
                    <TextCell
                      text={each.whereKept}
                      label="Where they are kept"
                      locked={locked}
                      onSet={(whereKept) => set({ whereKept })}
                    />
                  </td>
                  <td>
                    <TextCell
                      text={each.notes}
                      label="Notes on the spares"
                      locked={locked}
                      onSet={(notes) => set({ notes })}
                    />
                  </td>
                  <RemoveCell
                    what="these spares"
                    locked={locked}
                    onRemove={() => removeRecord(`Remove spares of ${partName}`, 'spare', each.id)}
                  />
                </tr>
              )
            })}
          </tbody>
        </table>
      )}
    </Section>
  )
}

const shownOpenings = 60

function WhereUsed({ page, locked }: Pick<Listed, 'page' | 'locked'>) {
  const { typicals, openings, supplies, controllers } = page.use
  return (
    <Section title="Where it is used" facts={reachWords(page.use)} locked={locked}>
      {typicals.length > 0 && (
        <table className="plain-table narrow-table">
          <Headings names={['Typical', 'As', 'Openings that follow it']} />
          <tbody>
            {typicals.map((each) => (
              <tr key={each.id}>
                <td>
                  <a className="link" href={hrefOf({ sheet: 'typical', typicalId: each.id })}>
                    {each.name}
                  </a>
                </td>
                <td>{each.tags.join(', ')}</td>
                <td>{each.openings}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <p className="used-openings">
        {openings.slice(0, shownOpenings).map((each) => (
          <a key={each.id} className="link" href={hrefOf({ sheet: 'opening', openingId: each.id })}>
            {each.mark}
          </a>
        ))}
        {openings.length > shownOpenings && (
          <span className="soft">and {openings.length - shownOpenings} more</span>
        )}
        {supplies.map((each) => (
          <a key={each.id} className="link" href={hrefOf({ sheet: 'supply', supplyId: each.id })}>
            {each.mark}
          </a>
        ))}
        {controllers.map((each) => (
          <span key={each.id}>controller {each.mark}</span>
        ))}
      </p>
    </Section>
  )
}
