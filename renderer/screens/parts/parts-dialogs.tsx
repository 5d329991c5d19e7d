import { useState } from 'react'
import type { Offer } from '../../../core/parts/index.ts'
import { ask } from '../../bridge.ts'
import { Button, Checkbox, Choice, Dialog, Field } from '../../ui/index.ts'
import { Form } from '../dialogs.tsx'
import { openPartsDialog, usePartsDialog } from '../parts-dialog-state.ts'
import { goTo } from '../place.ts'
import { useAsked } from '../use-asked.ts'
import { makeChange, tell, useWindow } from '../window-state.ts'
import { settled } from './part-state.ts'

interface Asked {
  readonly onClose: () => void
}

export function PartsDialogs() {
  const { dialog } = usePartsDialog()
  const onClose = (): void => openPartsDialog(null)
  if (dialog === null) return null
  switch (dialog.form) {
    case 'new part':
      return <NewPart likePartId={dialog.likePartId} onClose={onClose} />
    case 'new typical':
      return <NewTypical likeTypicalId={dialog.likeTypicalId} onClose={onClose} />
    case 'bring in':
      return <BringIn onClose={onClose} />
  }
}

const likeNone = 'none'

function NewPart({ likePartId, onClose }: Asked & { readonly likePartId: string | null }) {
  const parts = useWindow((state) => state.job?.parts) ?? []
  const [like, setLike] = useState(likePartId ?? likeNone)
  const source = parts.find(({ id }) => id === like)
  const [name, setName] = useState(source === undefined ? '' : `${source.name}, copy`)
  const [kind, setKind] = useState('')
  return (
    <Form
      title={source === undefined ? 'New part' : `New part like ${source.name}`}
      does="Make the part"
      size="middle"
      ready={name.trim() !== '' && (source !== undefined || kind.trim() !== '')}
      onClose={onClose}
      onDo={async () => {
        const answer = await ask('part.make', {
          name,
          kind: source?.kind ?? kind,
          likePartId: source?.id ?? null,
        })
        if (!settled(answer.ok ? { ok: true, value: answer.value.outcome } : answer)) return false
        if (answer.ok && answer.value.id !== null) goTo({ sheet: 'part', partId: answer.value.id })
        return true
      }}
    >
      <Field
        label="Name"
        value={name}
        onChange={setName}
        autoFocus
        help="What it is and its main ratings, so that it is told from its like."
      />
      <Choice
        label="Begin like"
        options={[
          { key: likeNone, label: 'Nothing: everything about it is a question' },
          ...parts.map((each) => ({ key: each.id, label: each.name })),
        ]}
        value={like}
        onChange={setLike}
      />
      {source === undefined && (
        <Field
          label="Kind"
          value={kind}
          onChange={setKind}
          help={`What it is: ${[...new Set(parts.map((each) => each.kind))].slice(0, 4).join(', ')} …`}
        />
      )}
    </Form>
  )
}

function NewTypical({ likeTypicalId, onClose }: Asked & { readonly likeTypicalId: string | null }) {
  const typicals = useWindow((state) => state.job?.frame.typicals) ?? []
  const source = typicals.find(({ id }) => id === likeTypicalId)
  const [name, setName] = useState(source === undefined ? '' : `${source.name}, copy`)
  const [like, setLike] = useState(likeTypicalId ?? likeNone)
  return (
    <Form
      title={source === undefined ? 'New typical' : `New typical like ${source.name}`}
      does="Make the typical"
      ready={name.trim() !== ''}
      onClose={onClose}
      onDo={async () => {
        const before = new Set(typicals.map(({ id }) => id as string))
        const made = await makeChange({
          does: 'add typical',
          name: name.trim(),
          likeTypicalId: like === likeNone ? null : like,
        })
        const fresh = useWindow.getState().job?.frame.typicals.find(({ id }) => !before.has(id))
        if (made && fresh !== undefined) goTo({ sheet: 'typical', typicalId: fresh.id })
        return made
      }}
    >
      <Field label="Name" value={name} onChange={setName} autoFocus help="What people on the job call it." />
      <Choice
        label="Begin like"
        options={[
          { key: likeNone, label: 'Empty' },
          ...typicals.map((each) => ({ key: each.id as string, label: each.name })),
        ]}
        value={like}
        onChange={setLike}
      />
    </Form>
  )
}

/** What comes with the program, to be chosen from. */
function BringIn({ onClose }: Asked) {
  const offers = useAsked('starter.read', {})
  const [partIds, setParts] = useState<ReadonlySet<string>>(new Set())
  const [typicalIds, setTypicals] = useState<ReadonlySet<string>>(new Set())
  const count = partIds.size + typicalIds.size
  const bring = async (): Promise<void> => {
    const answer = await ask('starter.bringIn', { partIds: [...partIds], typicalIds: [...typicalIds] })
    if (!settled(answer.ok ? { ok: true, value: answer.value.outcome } : answer) || !answer.ok) return
    const { outcome, leftOut } = answer.value
    tell({
      weight: leftOut.length > 0 ? 'question' : 'told',
      words: `Done: ${outcome.name}.`,
      more: leftOut,
    })
    onClose()
  }
  return (
    <Dialog
      title="Bring in from the starter library"
      open
      onClose={onClose}
      size="middle"
      actions={
        <>
          <Button onPress={onClose}>Leave it</Button>
          <Button kind="main" disabled={count === 0} onPress={() => void bring()}>
            {count === 0 ? 'Bring in' : `Bring in ${count}`}
          </Button>
        </>
      }
    >
      <p>
        Generic, invented parts and typicals that come with the program. A typical brings the parts it needs;
        parts the job has by the same name are used as they stand here.
      </p>
      {offers !== null && (
        <div className="offers">
          <Offers title="Typicals" offers={offers.typicals} chosen={typicalIds} onChoose={setTypicals} />
          <Offers title="Parts" offers={offers.parts} chosen={partIds} onChoose={setParts} />
        </div>
      )}
    </Dialog>
  )
}

function Offers({
  title,
  offers,
  chosen,
  onChoose,
}: {
  readonly title: string
  readonly offers: readonly Offer[]
  readonly chosen: ReadonlySet<string>
  readonly onChoose: (chosen: ReadonlySet<string>) => void
}) {
  const lacking = offers.filter(({ here }) => !here)
  const toggle = (id: string): void => {
    const next = new Set(chosen)
    if (!next.delete(id)) next.add(id)
    onChoose(next)
  }
  const here = offers.length - lacking.length
  return (
    <section aria-label={title}>
      <h3>
        {title}{' '}
        <span className="soft">
          {lacking.length === 0
            ? `all ${offers.length} are in this job`
            : `${lacking.length} not in this job${here === 0 ? '' : `, ${here} already here`}`}
        </span>
      </h3>
      {lacking.length > 1 && (
        <Button
          kind="quiet"
          onPress={() =>
            onChoose(chosen.size === lacking.length ? new Set() : new Set(lacking.map(({ id }) => id)))
          }
        >
          {chosen.size === lacking.length ? 'None of them' : `All ${lacking.length}`}
        </Button>
      )}
      <ul>
        {lacking.map((offer) => (
          <li key={offer.id}>
            <Checkbox checked={chosen.has(offer.id)} onChange={() => toggle(offer.id)}>
              <b>{offer.name}</b> <span className="soft">{offer.words}</span>
            </Checkbox>
          </li>
        ))}
      </ul>
    </section>
  )
}
