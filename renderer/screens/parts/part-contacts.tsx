import { contactWords } from '../../../core/parts/index.ts'
import { NameCell } from '../job/index.ts'
import { TextCell } from '../text-cell.tsx'
import { AmountCell, SelectCell } from './cells.tsx'
import { freshName, type PartSectionProps } from './part-behaviour.tsx'
import { addRecords, explains, nextPosition, removeRecord, setRecord, type Fields } from './part-state.ts'
import { Headings, RemoveCell, Section } from './section.tsx'

/** The circumstances in which a contact can stand, as people meet them. */
const circumstances = [
  'at rest',
  'door shut',
  'door open',
  'bolt thrown',
  'exit asked',
  'key turned',
  'cover off',
  'fire alarm',
  'mains lost',
  'no power',
] as const

const circumstanceMeanings: Readonly<Record<string, string>> = {
  'at rest': 'Nobody works it and its door is as usual.',
  'door shut': 'The leaf stands shut.',
  'door open': 'The leaf stands open.',
  'bolt thrown': 'The bolt or latch stands out.',
  'exit asked': 'Somebody asks to leave by it.',
  'key turned': 'Somebody turns its key.',
  'cover off': 'Its cover is off: somebody tampers with it.',
  'fire alarm': 'The alarm sounds.',
  'mains lost': 'The mains is gone and the battery carries on.',
  'no power': 'It has no power of its own.',
}

/** Contacts with how each stands in every circumstance. */
export function PartContacts({ of, part, locked }: PartSectionProps) {
  const used = circumstances.filter((each) =>
    of.partContactState.some(({ circumstance }) => circumstance === each),
  )
  const others = [...new Set(of.partContactState.map(({ circumstance }) => circumstance))].filter(
    (each) => !circumstances.some((known) => known === each),
  )
  const columns = [...used, ...others]
  const addable = circumstances.filter((each) => !columns.includes(each))
  const [first] = of.partContact
  return (
    <Section
      title="Contacts"
      facts="open or closed in each circumstance; empty is not known"
      add="Add a contact"
      locked={locked}
      onAdd={() =>
        addRecords(
          `Add a contact to ${part.name}`,
          {
            kind: 'partContact',
            record: {
              partId: part.id,
              position: nextPosition(of.partContact),
              name: freshName('Contact', of.partContact),
              form: 'normally open',
              terminals: null,
            },
          },
          {
            kind: 'partContactState',
            record: { partContactId: 'new:1', circumstance: 'at rest', closed: false },
          },
        )
      }
    >
      {of.partContact.length === 0 ? (
        <p className="padded soft">It has no contacts.</p>
      ) : (
        <div className="wide-table">
          <table className="plain-table">
            <Headings
              names={['Contact', 'Form', 'Terminals', 'Stays changed', ...columns, ...(locked ? [] : [''])]}
            />
            <tbody>
              {of.partContact.map((contact) => {
                const set = (fields: Fields) =>
                  setRecord(
                    `Change contact ${contact.name} of ${part.name}`,
                    'partContact',
                    contact.id,
                    fields,
                  )
                const timing = of.partContactTiming.find(({ partContactId }) => partContactId === contact.id)
                return (
                  <tr
                    key={contact.id}
                    {...explains(
                      `Contact ${contact.name}`,
                      `${contactWords(of, contact)}.`,
                      'A link that breaks a feed takes the feed through this contact: open, the feed is broken.',
                    )}
                  >
                    <td className="mark">
                      <NameCell
                        name={contact.name}
                        label="Contact"
                        locked={locked}
                        onSet={(name) => void set({ name })}
                      />
                    </td>
                    <td>
                      <SelectCell
                        label={`Form of ${contact.name}`}
                        value={contact.form}
                        options={['normally open', 'normally closed', 'changeover']}
                        locked={locked}
                        onSet={(form) => set({ form })}
                      />
                    </td>
                    <td>
                      <TextCell
                        text={contact.terminals}
                        label={`Terminals of ${contact.name}`}
                        locked={locked}
                        onSet={(terminals) => set({ terminals })}
                      />
                    </td>
                    <td className="timing">
                      <SelectCell
                        label={`How long ${contact.name} stays changed`}
                        value={timing?.lasts ?? null}
                        options={['as long as its cause', 'until reset', 'seconds']}
                        none="not known"
                        locked={locked}
                        onSet={(lasts) => {
                          const name = `Set how long contact ${contact.name} of ${part.name} stays changed`
                          if (lasts === null)
                            return timing && removeRecord(name, 'partContactTiming', timing.id)
                          return timing === undefined
                            ? addRecords(name, {
                                kind: 'partContactTiming',
                                record: { partContactId: contact.id, lasts, seconds: null },
                              })
                            : setRecord(name, 'partContactTiming', timing.id, { lasts, seconds: null })
                        }}
                      />
                      {timing?.lasts === 'seconds' && (
                        <AmountCell
                          label={`Seconds that ${contact.name} stays changed`}
                          value={timing.seconds}
                          unit="seconds"
                          hint="as it is set"
                          locked={locked}
                          onSet={(seconds) =>
                            setRecord(
                              `Set how long contact ${contact.name} of ${part.name} stays changed`,
                              'partContactTiming',
                              timing.id,
                              { seconds },
                            )
                          }
                        />
                      )}
                    </td>
                    {columns.map((circumstance) => {
                      const state = of.partContactState.find(
                        (each) => each.partContactId === contact.id && each.circumstance === circumstance,
                      )
                      const name = `Set contact ${contact.name} of ${part.name}, ${circumstance}`
                      return (
                        <td
                          key={circumstance}
                          {...explains(
                            `${contact.name}, ${circumstance}`,
                            circumstanceMeanings[circumstance] ?? 'A circumstance of its own.',
                            state === undefined
                              ? 'How it stands then is not known.'
                              : `It is ${state.closed ? 'closed' : 'open'} then.`,
                          )}
                        >
                          <SelectCell
                            label={`${contact.name}, ${circumstance}`}
                            value={state === undefined ? null : state.closed ? 'closed' : 'open'}
                            options={['closed', 'open']}
                            none="—"
                            locked={locked}
                            onSet={(words) => {
                              if (words === null)
                                return state && removeRecord(name, 'partContactState', state.id)
                              const closed = words === 'closed'
                              return state === undefined
                                ? addRecords(name, {
                                    kind: 'partContactState',
                                    record: { partContactId: contact.id, circumstance, closed },
                                  })
                                : setRecord(name, 'partContactState', state.id, { closed })
                            }}
                          />
                        </td>
                      )
                    })}
                    <RemoveCell
                      what={`contact ${contact.name}`}
                      locked={locked}
                      onRemove={() =>
                        removeRecord(
                          `Remove contact ${contact.name} of ${part.name}`,
                          'partContact',
                          contact.id,
                        )
                      }
                    />
                  </tr>
                )
              })}
            </tbody>
          </table>
        </div>
      )}
      {!locked && first !== undefined && addable.length > 0 && (
        <p className="padded small-line">
          <SelectCell
            label="Another circumstance"
            value={null}
            options={addable}
            none="Another circumstance …"
            locked={locked}
            onSet={(circumstance) =>
              circumstance !== null &&
              addRecords(`Say how ${first.name} of ${part.name} stands, ${circumstance}`, {
                kind: 'partContactState',
                record: { partContactId: first.id, circumstance, closed: false },
              })
            }
          />
        </p>
      )}
    </Section>
  )
}
