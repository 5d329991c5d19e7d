import { useState } from 'react'
import type { TypicalLook } from '../../../core/contract/index.ts'
import type { JobRecord } from '../../../core/job/index.ts'
import {
  linkMeanings,
  linkSentence,
  type TypicalFittingView,
  type TypicalLink,
} from '../../../core/parts/index.ts'
import type { Command } from '../../../core/schedule/index.ts'
import { Button, SheetHeading } from '../../ui/index.ts'
import { explains, SelectCell } from '../parts/index.ts'
import { change } from './typical-state.ts'

type Does = JobRecord<'link'>['does']
const doings: readonly Does[] = ['breaks feed of', 'asks', 'watches']
type RecordsCommand = Extract<Command, { does: 'change records' }>

const records = (name: string, some: Partial<RecordsCommand>): RecordsCommand => ({
  does: 'change records',
  name: name.length > 200 ? `${name.slice(0, 199)}…` : name,
  add: [],
  set: [],
  remove: [],
  ...some,
})

/** A link that is only tried has no record yet, so it is dropped with the try. */
const isTried = ({ id }: TypicalLink): boolean => id.startsWith('tried ')

/** What its fittings do to each other, each a sentence whose parts are chosen. */
export function TypicalLinks({
  typicalId,
  name,
  look,
  locked,
}: {
  readonly typicalId: string
  readonly name: string
  readonly look: TypicalLook
  readonly locked: boolean
}) {
  const { fittings, links } = look
  return (
    <section aria-label="Links" className="typical-links">
      <SheetHeading level={2} title="Links" facts="what its fittings do to each other" />
      <div className="wide-table">
        <table className="plain-table">
          <thead>
            <tr>
              <th scope="col">From</th>
              <th scope="col">Does</th>
              <th scope="col">To</th>
              <th scope="col">By which contact</th>
              <th scope="col">In words</th>
              <th scope="col">
                <span className="for-ears">Deeds</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {links.map((link) => (
              <LinkRow
                key={link.id}
                link={link}
                name={name}
                fittings={fittings}
                locked={locked || isTried(link)}
              />
            ))}
            {links.length === 0 && (
              <tr>
                <td colSpan={6} className="soft">
                  Nothing is linked: what is fed stays fed, and nobody is let go.
                </td>
              </tr>
            )}
          </tbody>
        </table>
      </div>
      {!locked && fittings.length > 1 && <AddLink typicalId={typicalId} name={name} fittings={fittings} />}
    </section>
  )
}

const tagsOf = (fittings: readonly TypicalFittingView[]) =>
  fittings.map(({ id, tag, kind }) => ({ key: id, label: `${tag} ${kind}` }))

const contactsOf = (fittings: readonly TypicalFittingView[], fromId: string | null) =>
  (fittings.find(({ id }) => id === fromId)?.contacts ?? []).map(({ id, name }) => ({ key: id, label: name }))

function LinkRow({
  link,
  name,
  fittings,
  locked,
}: {
  readonly link: TypicalLink
  readonly name: string
  readonly fittings: readonly TypicalFittingView[]
  readonly locked: boolean
}) {
  const set = (fields: RecordsCommand['set'][number]['fields']): void =>
    change(
      `link ${link.id}`,
      records(`Change a link of ${name}`, { set: [{ kind: 'link', id: link.id, fields }] }),
    )
  const about = link.sentence.replace(/\.$/, '')
  return (
    <tr
      className={link.question === null ? '' : 'question'}
      {...explains(about, linkMeanings[link.does], ...(link.question === null ? [] : [link.question]))}
    >
      <td>
        <SelectCell
          label={`From: ${about}`}
          value={link.fromId}
          options={tagsOf(fittings)}
          locked={locked}
          onSet={(fromTypicalFittingId) => set({ fromTypicalFittingId, partContactId: null })}
        />
      </td>
      <td>
        <SelectCell
          label={`Does: ${about}`}
          value={link.does}
          options={doings}
          locked={locked}
          onSet={(does) => set({ does })}
        />
      </td>
      <td>
        <SelectCell
          label={`To: ${about}`}
          value={link.toId}
          options={tagsOf(fittings)}
          locked={locked}
          onSet={(toTypicalFittingId) => set({ toTypicalFittingId })}
        />
      </td>
      <td>
        <SelectCell
          label={`Contact: ${about}`}
          value={link.contactId}
          options={contactsOf(fittings, link.fromId)}
          none={link.does === 'breaks feed of' ? 'not known' : 'none named'}
          locked={locked}
          onSet={(partContactId) => set({ partContactId })}
        />
      </td>
      <td className="soft wrap">{link.question ?? link.sentence}</td>
      <td className="deeds">
        {!locked && (
          <Button
            kind="quiet"
            label={`Take out: ${about}`}
            onPress={() =>
              change(
                `link ${link.id}`,
                records(`Take out of ${name}: ${about}`, { remove: [{ kind: 'link', id: link.id }] }),
              )
            }
          >
            Take out
          </Button>
        )}
      </td>
    </tr>
  )
}

function AddLink({
  typicalId,
  name,
  fittings,
}: {
  readonly typicalId: string
  readonly name: string
  readonly fittings: readonly TypicalFittingView[]
}) {
  const [fromId, setFrom] = useState<string | null>(null)
  const [does, setDoes] = useState<Does>('breaks feed of')
  const [toId, setTo] = useState<string | null>(null)
  const [contactId, setContact] = useState<string | null>(null)
  const from = fittings.find(({ id }) => id === fromId)
  const to = fittings.find(({ id }) => id === toId)
  const contact = from?.contacts.find(({ id }) => id === contactId)
  const ready =
    from !== undefined &&
    to !== undefined &&
    from !== to &&
    (does !== 'breaks feed of' || contact !== undefined)
  const add = (): void => {
    if (from === undefined || to === undefined) return
    const sentence = linkSentence(
      { name: `${from.kind} ${from.tag}`, contact: contact?.name ?? null },
      does,
      to.tag,
    )
    change(
      `add ${sentence}`,
      records(`Link ${name}: ${sentence.replace(/\.$/, '')}`, {
        add: [
          {
            kind: 'link',
            record: {
              id: 'new:1',
              typicalId,
              openingId: null,
              fromTypicalFittingId: from.id,
              toTypicalFittingId: to.id,
              fromFittingId: null,
              toFittingId: null,
              partContactId: contact?.id ?? null,
              does,
              notes: null,
            },
          },
        ],
      }),
    )
    setTo(null)
  }
  return (
    <div className="line-of-choices" {...explains('Add a link', linkMeanings[does])}>
      <SelectCell
        label="From which fitting"
        value={fromId}
        options={tagsOf(fittings)}
        none="From …"
        locked={false}
        onSet={(id) => {
          setFrom(id)
          setContact(null)
        }}
      />
      <SelectCell
        label="What it does"
        value={does}
        options={doings}
        locked={false}
        onSet={(next) => setDoes(next as Does)}
      />
      <SelectCell
        label="To which fitting"
        value={toId}
        options={tagsOf(fittings.filter(({ id }) => id !== fromId))}
        none="to …"
        locked={false}
        onSet={setTo}
      />
      <SelectCell
        label="By which of its contacts"
        value={contactId}
        options={contactsOf(fittings, fromId)}
        none={does === 'breaks feed of' ? 'by contact …' : 'no contact named'}
        locked={from === undefined}
        onSet={setContact}
      />
      <Button disabled={!ready} onPress={add}>
        Add the link
      </Button>
      {from !== undefined && does === 'breaks feed of' && from.contacts.length === 0 && (
        <span className="soft">{from.tag} has no contacts, so it can break no feed.</span>
      )}
    </div>
  )
}
