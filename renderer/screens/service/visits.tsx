import { useEffect, useRef, useState } from 'react'
import type { CallPage, VisitInFull } from '../../../core/contract/index.ts'
import type { JobRecord } from '../../../core/job/index.ts'
import {
  changePart,
  closeVisit,
  isOpen,
  noteOnVisit,
  openVisitAgain,
  raiseFinding,
  type VisitField,
} from '../../../core/service/index.ts'
import type { FittingSettings, SettingState } from '../../../core/settings/index.ts'
import { ask } from '../../bridge.ts'
import { Button, Choice, Field, SheetHeading } from '../../ui/index.ts'
import { bytesToBase64 } from '../files.ts'
import { momentWords } from '../history/index.ts'
import { SettingField, targetOf } from '../settings/index.ts'
import { TextCell } from '../text-cell.tsx'
import { makeChange, takeOutcome, useWindow, working } from '../window-state.ts'

/** What is under way here, where the one who came writes. */
export function OpenVisits({ page, locked }: { readonly page: CallPage; readonly locked: boolean }) {
  const open = page.visits.filter(({ visit }) => isOpen(visit))
  if (open.length === 0) return null
  return (
    <section aria-label="Open visits">
      {open.map((each) => (
        <OpenVisit key={each.visit.id} page={page} inFull={each} locked={locked} />
      ))}
    </section>
  )
}

/** What was done here before. */
export function Visits({ page, locked }: { readonly page: CallPage; readonly locked: boolean }) {
  const closed = page.visits.filter(({ visit }) => !isOpen(visit))
  return (
    <section aria-label="Visits">
      <SheetHeading
        level={2}
        title="Visits"
        facts={closed.length === 0 ? 'none was made yet' : `${closed.length}, the last first`}
      />
      {closed.map((each) => (
        <ClosedVisit key={each.visit.id} page={page} inFull={each} locked={locked} />
      ))}
    </section>
  )
}

const dayOf = (instant: string | null): string => instant?.slice(0, 10) ?? 'no day'

function ClosedVisit({
  page,
  inFull,
  locked,
}: {
  readonly page: CallPage
  readonly inFull: VisitInFull
  readonly locked: boolean
}) {
  const { visit } = inFull
  const lines = [
    ['Reported', [visit.symptom, visit.reportedBy].filter((each) => each !== null).join(', ')],
    ['Found', visit.found ?? ''],
    ['Done', visit.done ?? ''],
  ] as const
  return (
    <article className="visit" aria-label={`Visit of ${dayOf(visit.at)}`}>
      <h3>
        {dayOf(visit.at)}
        {visit.who === null ? '' : `, ${visit.who}`}
        {!locked && (
          <Button kind="quiet" onPress={() => void makeChange(openVisitAgain(visit, page.mark))}>
            Open again
          </Button>
        )}
      </h3>
      <dl className="visit-lines">
        {lines
          .filter(([, words]) => words !== '')
          .map(([name, words]) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{words}</dd>
            </div>
          ))}
      </dl>
      <VisitFacts inFull={inFull} />
    </article>
  )
}

function VisitFacts({ inFull }: { readonly inFull: VisitInFull }) {
  const { parts, settings, findings } = inFull
  const photographs = inFull.photographs.filter(({ mediaType }) => mediaType?.startsWith('image/') === true)
  return (
    <>
      {(parts.length > 0 || settings.length > 0 || findings.length > 0) && (
        <ul className="visit-facts">
          {settings.map((each) => (
            <li key={each}>{each}</li>
          ))}
          {parts.map((part) => (
            <li key={part.id}>
              {part.tag ?? 'A fitting'} changed{part.partName === null ? '' : `, ${part.partName}`}: serial{' '}
              {part.oldSerial ?? 'not known'} to {part.newSerial ?? 'not known'}
              {part.notes === null ? '' : `. ${part.notes}`}
            </li>
          ))}
          {findings.map((each) => (
            <li key={each.id} className={each.state === 'open' ? 'question' : ''}>
              {each.state === 'open' ? 'Open finding' : 'Closed finding'}: {each.words}
            </li>
          ))}
        </ul>
      )}
      {photographs.length > 0 && (
        <ul className="visit-pictures">
          {photographs.map((each) => (
            <li key={each.id}>
              <Picture document={each} />
              {each.name}
            </li>
          ))}
        </ul>
      )}
    </>
  )
}

function Picture({ document }: { readonly document: JobRecord<'document'> }) {
  const { sha256, mediaType, name } = document
  const [source, setSource] = useState<string | null>(null)
  useEffect(() => {
    let wanted = true
    if (sha256 !== null)
      void ask('attachment.read', { sha256 }).then((answer) => {
        if (wanted && answer.ok) setSource(`data:${mediaType ?? 'image/jpeg'};base64,${answer.value.base64}`)
      })
    return () => {
      wanted = false
    }
  }, [sha256, mediaType])
  return source === null ? null : <img src={source} alt={name} />
}

const fields: readonly (readonly [VisitField, string])[] = [
  ['reportedBy', 'Reported by'],
  ['who', 'Who comes'],
  ['symptom', 'Reported'],
  ['found', 'Found'],
  ['done', 'Done'],
]

function OpenVisit({
  page,
  inFull,
  locked,
}: {
  readonly page: CallPage
  readonly inFull: VisitInFull
  readonly locked: boolean
}) {
  const { visit } = inFull
  const [adding, setAdding] = useState<'part' | 'finding' | null>(null)
  return (
    <article className="visit open" aria-label="Open visit">
      <h2>
        Open visit
        <span className="soft">
          {visit.reportedAt === null ? '' : ` reported ${momentWords(visit.reportedAt)}`}
        </span>
      </h2>
      <dl className="visit-lines">
        {fields.map(([field, label]) => (
          <div
            key={field}
            className={field === 'found' || field === 'done' || field === 'symptom' ? 'wide' : ''}
          >
            <dt>{label}</dt>
            <dd>
              <TextCell
                text={visit[field]}
                label={`${label}, open visit`}
                hint="write here"
                locked={locked}
                choices={field === 'who' || field === 'reportedBy' ? page.people.map(({ name }) => name) : []}
                onSet={(words) => makeChange(noteOnVisit(visit.id, page.mark, field, words))}
              />
            </dd>
          </div>
        ))}
      </dl>
      <AsFound page={page} visitId={visit.id} locked={locked} />
      <VisitFacts inFull={inFull} />
      {!locked && (
        <div className="visit-deeds">
          <Button onPress={() => setAdding(adding === 'part' ? null : 'part')}>Change a part</Button>
          <Photograph visitId={visit.id} />
          <Button onPress={() => setAdding(adding === 'finding' ? null : 'finding')}>Raise a finding</Button>
          <Button kind="main" onPress={() => void makeChange(closeVisit(visit, page.mark))}>
            Close the visit
          </Button>
        </div>
      )}
      {adding === 'part' && !locked && (
        <ChangePart page={page} visitId={visit.id} onDone={() => setAdding(null)} />
      )}
      {adding === 'finding' && !locked && (
        <RaiseFinding page={page} visitId={visit.id} onDone={() => setAdding(null)} />
      )}
    </article>
  )
}

const keyOf = (fitting: FittingSettings, state: SettingState): string =>
  `${fitting.tag} ${state.setting.id as string}`

/** Notes how one setting was found. */
function AsFound({
  page,
  visitId,
  locked,
}: {
  readonly page: CallPage
  readonly visitId: string
  readonly locked: boolean
}) {
  const all = page.settings.flatMap((fitting) => fitting.settings.map((state) => ({ fitting, state })))
  const [chosen, setChosen] = useState<string | null>(null)
  if (locked || all.length === 0) return null
  const here = all.find(({ fitting, state }) => keyOf(fitting, state) === chosen)
  return (
    <div className="visit-form">
      <Choice
        label="Setting as found"
        placeholder="Choose a setting"
        options={all.map(({ fitting, state }) => ({
          key: keyOf(fitting, state),
          label: `${fitting.tag} ${state.setting.name}`,
        }))}
        value={chosen}
        onChange={setChosen}
      />
      {here !== undefined && (
        <div className="visit-value">
          <span className="soft">
            designed {here.state.designed.known ? here.state.designed.value : 'not known'}, stands at{' '}
            {here.state.standing.known ? here.state.standing.value : 'not noted'}; found at
          </span>
          <SettingField
            key={chosen}
            label={`${here.state.setting.name} of ${here.fitting.tag}, as found on this visit`}
            setting={here.state.setting}
            value={
              here.state.found.known && here.state.found.visitId === visitId ? here.state.found.value : null
            }
            onSet={(value) =>
              makeChange({
                does: 'set settings',
                stage: 'found',
                sets: [
                  {
                    values: [{ settingId: here.state.setting.id, value }],
                    targets: [targetOf(here.fitting)],
                  },
                ],
                visitId,
              })
            }
          />
        </div>
      )}
    </div>
  )
}

/** A part that was exchanged: its new serial stands on the opening at once. */
function ChangePart({
  page,
  visitId,
  onDone,
}: {
  readonly page: CallPage
  readonly visitId: string
  readonly onDone: () => void
}) {
  const parts = useWindow((state) => state.job?.parts ?? [])
  const [key, setKey] = useState<string | null>(null)
  const [partId, setPartId] = useState<string | null>(null)
  const [serial, setSerial] = useState('')
  const [notes, setNotes] = useState('')
  const fitting = page.fittings.find((each) => each.key === key)
  const kind = fitting?.part?.kind
  const alike = parts.filter((each) => each.kind === kind)
  const act = async (): Promise<void> => {
    if (fitting === undefined) return
    const made = await makeChange(
      changePart({
        visitId,
        opening: { id: page.openingId as never, mark: page.mark },
        fitting,
        partId,
        newSerial: serial,
        installedOn: page.today,
        notes,
      }),
    )
    if (made) onDone()
  }
  return (
    <form
      className="visit-form boxed"
      aria-label="Change a part"
      onSubmit={(event) => {
        event.preventDefault()
        void act()
      }}
    >
      <Choice
        label="Which"
        placeholder="Choose a fitting"
        autoFocus
        options={page.fittings.map((each) => ({
          key: each.key,
          label: `${each.tag}, ${each.part?.name ?? 'part not known'}`,
        }))}
        value={key}
        onChange={(next) => {
          setKey(next)
          setPartId(page.fittings.find((each) => each.key === next)?.part?.id ?? null)
        }}
      />
      {fitting !== undefined && (
        <>
          {alike.length > 1 && (
            <Choice
              label="By which part"
              options={alike.map((each) => ({ key: each.id, label: each.name }))}
              value={partId}
              onChange={setPartId}
            />
          )}
          <Field
            label={`New serial (was ${fitting.serial ?? 'not known'})`}
            value={serial}
            onChange={setSerial}
          />
          <Field label="Note" value={notes} onChange={setNotes} />
        </>
      )}
      <button type="submit" hidden aria-hidden="true" tabIndex={-1} />
      <div className="visit-deeds">
        <Button kind="quiet" onPress={onDone}>
          Leave it
        </Button>
        <Button kind="main" disabled={fitting === undefined} onPress={() => void act()}>
          Note the change
        </Button>
      </div>
    </form>
  )
}

function RaiseFinding({
  page,
  visitId,
  onDone,
}: {
  readonly page: CallPage
  readonly visitId: string
  readonly onDone: () => void
}) {
  const [words, setWords] = useState('')
  const [owner, setOwner] = useState('')
  const act = async (): Promise<void> => {
    const opening = { id: page.openingId as never, mark: page.mark }
    if (words.trim() !== '' && (await makeChange(raiseFinding(opening, { words, owner, visitId })))) onDone()
  }
  return (
    <form
      className="visit-form boxed"
      aria-label="Raise a finding"
      onSubmit={(event) => {
        event.preventDefault()
        void act()
      }}
    >
      <Field label="What is not as it should be" value={words} onChange={setWords} autoFocus />
      <Field label="Who settles it" value={owner} onChange={setOwner} />
      <button type="submit" hidden aria-hidden="true" tabIndex={-1} />
      <div className="visit-deeds">
        <Button kind="quiet" onPress={onDone}>
          Leave it
        </Button>
        <Button kind="main" disabled={words.trim() === ''} onPress={() => void act()}>
          Raise it
        </Button>
      </div>
    </form>
  )
}

function Photograph({ visitId }: { readonly visitId: string }) {
  const input = useRef<HTMLInputElement>(null)
  const take = async (file: File): Promise<void> => {
    const outcome = await working(`Keeping ${file.name}`, async () =>
      ask('service.photograph', {
        visitId,
        fileName: file.name,
        base64: bytesToBase64(await file.arrayBuffer()),
        caption: '',
      }),
    )
    if (outcome !== null) takeOutcome(outcome)
  }
  return (
    <>
      <Button onPress={() => input.current?.click()}>Add a photograph</Button>
      <input
        ref={input}
        type="file"
        hidden
        accept="image/jpeg,image/png"
        aria-label="Photograph of this visit"
        onChange={(event) => {
          const [file] = event.currentTarget.files ?? []
          event.currentTarget.value = ''
          if (file !== undefined) void take(file)
        }}
      />
    </>
  )
}
