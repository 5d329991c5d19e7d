import type { JobRecord } from '../../../core/job/index.ts'
import { Button, SheetHeading } from '../../ui/index.ts'
import { TextCell } from '../text-cell.tsx'
import { makeChange } from '../window-state.ts'

type Signature = JobRecord<'signature'>
type Contact = JobRecord<'contact'>
const somebodyElse = 'somebody else'
const titles = { training: 'Training', acceptance: 'Acceptance' } as const

/** Who signs for training and who takes over. */
export function PeopleView({
  signatures,
  contacts,
  locked,
}: {
  readonly signatures: readonly Signature[]
  readonly contacts: readonly Contact[]
  readonly locked: boolean
}) {
  return (['training', 'acceptance'] as const).map((signsFor) => {
    const here = signatures.filter((each) => each.signsFor === signsFor)
    return (
      <section key={signsFor} aria-label={titles[signsFor]}>
        <SheetHeading
          level={2}
          title={titles[signsFor]}
          facts={here.length === 0 ? 'nobody named yet' : `${here.length} named`}
          actions={
            <select
              className="plain-select"
              aria-label={`Name who signs for ${signsFor}`}
              disabled={locked}
              value=""
              onChange={(event) => {
                const id = event.currentTarget.value
                void add(signsFor, signatures.length, contacts.find((each) => each.id === id) ?? null)
              }}
            >
              <option value="" disabled>
                Add…
              </option>
              {contacts.map(({ id, name, role }) => (
                <option key={id} value={id}>
                  {role === null ? name : `${name}, ${role}`}
                </option>
              ))}
              <option value={somebodyElse}>Somebody else</option>
            </select>
          }
        />
        {here.length > 0 && (
          <table className="plain-table">
            <thead>
              <tr>
                <th scope="col">Name</th>
                <th scope="col">Role</th>
                <th scope="col">Company</th>
                <th scope="col">Signed on</th>
                <th scope="col">Notes</th>
                <th scope="col">
                  <span className="for-ears">Deeds</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {here.map((each) => (
                <tr key={each.id}>
                  {(['name', 'role', 'company', 'signedOn', 'notes'] as const).map((field) => (
                    <td key={field}>
                      <TextCell
                        text={each[field]}
                        label={`${fieldWords[field]} of ${each.name}`}
                        hint={field === 'signedOn' ? 'yyyy-mm-dd' : undefined}
                        locked={locked}
                        onSet={(text) =>
                          field === 'name' && text === null ? undefined : set(each, field, text)
                        }
                      />
                    </td>
                  ))}
                  <td className="deeds">
                    <Button
                      kind="quiet"
                      disabled={locked}
                      label={`Remove ${each.name}`}
                      onPress={() => void remove(each)}
                    >
                      Remove
                    </Button>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
      </section>
    )
  })
}

const fieldWords = {
  name: 'Name',
  role: 'Role',
  company: 'Company',
  signedOn: 'Day of signing',
  notes: 'Notes',
} as const

/** As the job keeps the contact: nothing is typed twice. */
const add = (signsFor: Signature['signsFor'], position: number, contact: Contact | null): Promise<boolean> =>
  makeChange({
    does: 'change records',
    name: `Name ${contact?.name ?? 'somebody'} to sign for ${signsFor}`.slice(0, 200),
    add: [
      {
        kind: 'signature',
        record: {
          id: 'new:signature',
          issueId: null,
          position,
          signsFor,
          name: contact?.name ?? 'Name not known yet',
          company: contact?.company ?? null,
          role: contact?.role ?? null,
          signedOn: null,
          notes: null,
        },
      },
    ],
    set: [],
    remove: [],
  })

const set = ({ id, name }: Signature, field: string, value: string | null): Promise<boolean> =>
  makeChange({
    does: 'change records',
    name: `Change the signature of ${name}`.slice(0, 200),
    add: [],
    set: [{ kind: 'signature', id, fields: { [field]: value } }],
    remove: [],
  })

const remove = ({ id, name }: Signature): Promise<boolean> =>
  makeChange({
    does: 'change records',
    name: `Remove the signature of ${name}`.slice(0, 200),
    add: [],
    set: [],
    remove: [{ kind: 'signature', id }],
  })
