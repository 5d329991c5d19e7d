import { conductorRoles, readWireSize, sentenceAbout, writeWireSize } from '../../../core/job/index.ts'
import type { ConductorPage, RunPage } from '../../../core/runs/index.ts'
import { Button, SheetHeading } from '../../ui/index.ts'
import { RemoveCell, SelectCell } from '../parts/index.ts'
import { TextCell } from '../text-cell.tsx'
import { useAsked } from '../use-asked.ts'
import { tell } from '../window-state.ts'
import { changeRecords } from './changes.ts'

const numbered = ({ position, colour }: ConductorPage): string =>
  `${position + 1}${colour === null ? '' : ` ${colour}`}`

/** Conductor by conductor: what it is, what it is for, and where it lands at both ends. */
export function Conductors({ runId, locked }: { readonly runId: string; readonly locked: boolean }) {
  const answer = useAsked('runs.run', { runId })
  const page = answer?.page ?? null
  if (page === null) return null
  const { row, conductors } = page
  return (
    <section className="conductors" aria-label={`Conductors of ${row.name}`}>
      <SheetHeading
        level={2}
        title={`${row.name}: conductors`}
        facts={`${row.from === '' ? 'from not known' : row.from} to ${row.to === '' ? 'not known' : row.to}`}
        actions={
          !locked && (
            <Button kind="quiet" onPress={() => void addOne(page)}>
              Add a conductor
            </Button>
          )
        }
      />
      <div className="conductor-lines" tabIndex={0} role="group" aria-label="Terminations">
        <table className="plain-table">
          <thead>
            <tr>
              <th scope="col">No.</th>
              <th scope="col">Colour</th>
              <th scope="col">Size</th>
              <th scope="col">Solid or stranded</th>
              <th scope="col">Use</th>
              <th scope="col">Purpose</th>
              <th scope="col">Terminal at {row.from === '' ? 'the start' : row.from}</th>
              <th scope="col">Terminal at {row.to === '' ? 'the end' : row.to}</th>
              <th scope="col">
                <span className="for-ears">Deeds</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {conductors.map((each) => (
              <Line key={each.id} run={page} each={each} locked={locked} />
            ))}
            {conductors.length === 0 && (
              <tr>
                <td colSpan={9} className="soft">
                  No conductors yet. Type how many above, name a cable kind, or add one here.
                </td>
              </tr>
            )}
          </tbody>
        </table>
      </div>
    </section>
  )
}

function addOne({ row, conductors }: RunPage): Promise<boolean> {
  const last = conductors.at(-1)
  return changeRecords(`Add a conductor to ${row.name}`, {
    add: [
      {
        kind: 'conductor',
        record: {
          id: 'new:1',
          runId: row.id,
          position: last === undefined ? 0 : last.position + 1,
          colour: null,
          size: last?.size ?? null,
          stranded: last?.stranded ?? null,
          purpose: null,
          fromTerminal: null,
          toTerminal: null,
        },
      },
    ],
  })
}

type TextField = 'colour' | 'purpose' | 'fromTerminal' | 'toTerminal'

function Line({
  run,
  each,
  locked,
}: {
  readonly run: RunPage
  readonly each: ConductorPage
  readonly locked: boolean
}) {
  const of = `conductor ${numbered(each)} of ${run.row.name}`
  const set = (what: string, fields: Record<string, string | boolean | null>): Promise<boolean> =>
    changeRecords(`Set ${what} of ${of}`, { set: [{ kind: 'conductor', id: each.id, fields }] })
  const text = (field: TextField, what: string) => (
    <td>
      <TextCell
        text={each[field]}
        label={`${what} of ${of}`}
        locked={locked}
        onSet={(wanted) => set(what, { [field]: wanted })}
      />
    </td>
  )
  const setSize = (wanted: string | null): unknown => {
    if (wanted === null) return set('size', { size: null })
    const read = readWireSize(wanted)
    if (read.known) return set('size', { size: writeWireSize(read.value) })
    return tell({
      weight: 'stop',
      words: `${run.row.name}, conductor ${numbered(each)}, size: ${sentenceAbout(wanted, read)} Nothing was changed.`,
    })
  }
  const setRole = (role: string | null): Promise<boolean> => {
    const name = `Set use of ${of}`
    if (role === null)
      return changeRecords(name, {
        remove: each.useId === null ? [] : [{ kind: 'conductorUse', id: each.useId }],
      })
    return each.useId === null
      ? changeRecords(name, {
          add: [{ kind: 'conductorUse', record: { id: 'new:1', conductorId: each.id, role } }],
        })
      : changeRecords(name, { set: [{ kind: 'conductorUse', id: each.useId, fields: { role } }] })
  }
  return (
    <tr className={each.role === null ? 'question' : ''}>
      <td className="mark">{each.position + 1}</td>
      {text('colour', 'colour')}
      <td>
        <TextCell text={each.size} label={`size of ${of}`} locked={locked} onSet={setSize} />
      </td>
      <td>
        <SelectCell
          label={`solid or stranded, ${of}`}
          value={each.stranded === null ? null : each.stranded ? 'stranded' : 'solid'}
          options={['stranded', 'solid']}
          none="not known"
          locked={locked}
          onSet={(word) => set('stranding', { stranded: word === null ? null : word === 'stranded' })}
        />
      </td>
      <td>
        <SelectCell
          label={`use of ${of}`}
          value={each.role}
          options={conductorRoles.map((role) => ({
            key: role,
            label: each.useId === null && role === each.role ? `${role} (read)` : role,
          }))}
          none="not known"
          locked={locked}
          onSet={setRole}
        />
      </td>
      {text('purpose', 'purpose')}
      {text('fromTerminal', 'terminal at the start')}
      {text('toTerminal', 'terminal at the end')}
      <RemoveCell
        what={of}
        locked={locked}
        onRemove={() => changeRecords(`Remove ${of}`, { remove: [{ kind: 'conductor', id: each.id }] })}
      />
    </tr>
  )
}
