import type { CablesPage } from '../../../core/contract/index.ts'
import { readWireSize, sentenceAbout, writeWireSize, type Units } from '../../../core/job/index.ts'
import {
  cableUnit,
  readCableLength,
  writeCableLength,
  type CableKind,
  type Quantities,
  type RouteCell,
  type RouteTable,
} from '../../../core/runs/index.ts'
import { Button, SheetHeading } from '../../ui/index.ts'
import { AmountCell, Headings, RemoveCell, SelectCell } from '../parts/index.ts'
import { TextCell } from '../text-cell.tsx'
import { useAsked } from '../use-asked.ts'
import { tell, type OpenJob } from '../window-state.ts'
import { changeRecords } from './changes.ts'

const stop = (words: string): void => tell({ weight: 'stop', words: `${words} Nothing was changed.` })

/** The cable kinds of the job, its routes, and how much cable that makes. */
export function CablesView({ job, locked }: { readonly job: OpenJob; readonly locked: boolean }) {
  const page = useAsked('runs.cables', {})
  if (page === null) return null
  const { units } = job.frame.job
  return (
    <div className="cables-view">
      <Kinds kinds={page.kinds} locked={locked} />
      <Routes routes={page.routes} units={units} locked={locked} />
      <QuantityTable job={job} quantities={page.quantities} locked={locked} />
    </div>
  )
}

function Kinds({ kinds, locked }: { readonly kinds: CablesPage['kinds']; readonly locked: boolean }) {
  return (
    <section aria-label="Cable kinds">
      <SheetHeading
        level={2}
        title="Cable kinds of this job"
        facts="naming one in the run list makes its conductors, in these colours"
        actions={
          !locked && (
            <Button kind="quiet" onPress={() => void addKind(kinds)}>
              Add a kind
            </Button>
          )
        }
      />
      <table className="plain-table">
        <Headings
          names={[
            'Name',
            'Conductors',
            'Size',
            'Solid or stranded',
            'Colours, in order',
            'Used for',
            'Notes',
            '',
          ]}
        />
        <tbody>
          {kinds.map((kind) => (
            <Kind key={kind.id} kind={kind} locked={locked} />
          ))}
          {kinds.length === 0 && (
            <tr>
              <td colSpan={8} className="soft">
                No kinds yet. Runs may still be written as 18/2 or 22/6.
              </td>
            </tr>
          )}
        </tbody>
      </table>
    </section>
  )
}

function addKind(kinds: CablesPage['kinds']): Promise<boolean> {
  const taken = new Set(kinds.map(({ name }) => name.toLowerCase()))
  let number = kinds.length + 1
  while (taken.has(`cable ${number}`)) number += 1
  return changeRecords(`Add cable kind Cable ${number}`, {
    add: [
      {
        kind: 'cableKind',
        record: {
          id: 'new:1',
          name: `Cable ${number}`,
          position: kinds.length,
          conductorCount: 2,
          size: '18 AWG',
          stranded: true,
          colours: ['red', 'black'],
          usedFor: null,
          notes: null,
        },
      },
    ],
  })
}

function Kind({ kind, locked }: { readonly kind: CableKind; readonly locked: boolean }) {
  const { name } = kind
  const set = (
    what: string,
    fields: Partial<Record<keyof CableKind, string | number | boolean | string[] | null>>,
  ) => changeRecords(`Set ${what} of ${name}`, { set: [{ kind: 'cableKind', id: kind.id, fields }] })
  return (
    <tr>
      <td className="mark">
        <TextCell
          text={name}
          label={`Name of ${name}`}
          locked={locked}
          onSet={(wanted) =>
            wanted === null ? stop('A cable kind needs a name.') : set('name', { name: wanted })
          }
        />
      </td>
      <td className="amount">
        <AmountCell
          label={`Conductors of ${name}`}
          value={kind.conductorCount}
          unit="conductors"
          whole
          locked={locked}
          onSet={(count) =>
            count === null || count < 1
              ? stop(`${name}, conductors: expected a whole number from 1.`)
              : set('conductors', { conductorCount: count })
          }
        />
      </td>
      <td>
        <TextCell
          text={kind.size}
          label={`Size of ${name}`}
          locked={locked}
          onSet={(text) => {
            if (text === null) return set('size', { size: null })
            const read = readWireSize(text)
            return read.known
              ? set('size', { size: writeWireSize(read.value) })
              : stop(`${name}, size: ${sentenceAbout(text, read)}`)
          }}
        />
      </td>
      <td>
        <SelectCell
          label={`Solid or stranded, ${name}`}
          value={kind.stranded === null ? null : kind.stranded ? 'stranded' : 'solid'}
          options={['stranded', 'solid']}
          none="not known"
          locked={locked}
          onSet={(word) => set('stranding', { stranded: word === null ? null : word === 'stranded' })}
        />
      </td>
      <td className="colours">
        <TextCell
          text={kind.colours.length === 0 ? null : kind.colours.join(', ')}
          label={`Colours of ${name}`}
          hint="red, black"
          locked={locked}
          onSet={(text) =>
            set('colours', {
              colours: (text ?? '')
                .split(',')
                .map((each) => each.trim())
                .filter((each) => each !== ''),
            })
          }
        />
      </td>
      <td>
        <TextCell
          text={kind.usedFor}
          label={`What ${name} is used for`}
          locked={locked}
          onSet={(usedFor) => set('use', { usedFor })}
        />
      </td>
      <td>
        <TextCell
          text={kind.notes}
          label={`Notes on ${name}`}
          locked={locked}
          onSet={(notes) => set('notes', { notes })}
        />
      </td>
      <RemoveCell
        what={name}
        locked={locked}
        onRemove={() =>
          changeRecords(`Remove cable kind ${name}`, { remove: [{ kind: 'cableKind', id: kind.id }] })
        }
      />
    </tr>
  )
}

const sourceWords = ({ source }: RouteCell): string => source?.mark ?? 'any other'

function Routes({
  routes,
  units,
  locked,
}: {
  readonly routes: RouteTable
  readonly units: Units
  readonly locked: boolean
}) {
  return (
    <section aria-label="Routes">
      <SheetHeading
        level={2}
        title="Usual lengths"
        facts={`${cableUnit(units)}, from a supply or controller to the openings of a level`}
      />
      <div className="routes" tabIndex={0} role="group" aria-label="Usual lengths by level and source">
        <table className="plain-table">
          <thead>
            <tr>
              <th scope="col">Level</th>
              <th scope="col" className="end">
                Any other
              </th>
              {routes.sources.map(({ id, mark }) => (
                <th key={id} scope="col" className="end">
                  {mark}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {routes.levels.map(({ levelId, name, cells }) => (
              <tr key={levelId}>
                <td className="mark">{name}</td>
                {cells.map((cell) => (
                  <td key={cell.source?.id ?? 'any'} className="amount">
                    <TextCell
                      text={cell.metres === null ? null : writeCableLength(cell.metres, units)}
                      label={`Usual length, ${name}, ${sourceWords(cell)}`}
                      locked={locked}
                      onSet={(text) => setRoute(cell, name, text, units)}
                    />
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  )
}

function setRoute(cell: RouteCell, level: string, text: string | null, units: Units): unknown {
  const name = `Set the usual length from ${sourceWords(cell)} to ${level}`
  if (text === null)
    return changeRecords(name, {
      remove: cell.routeId === null ? [] : [{ kind: 'routeLength', id: cell.routeId }],
    })
  const read = readCableLength(text, units)
  if (!read.known) return stop(`Usual length, ${level}, ${sourceWords(cell)}: ${sentenceAbout(text, read)}`)
  if (cell.routeId !== null)
    return changeRecords(name, {
      set: [{ kind: 'routeLength', id: cell.routeId, fields: { metres: read.value } }],
    })
  const record = {
    id: 'new:1',
    levelId: cell.levelId,
    supplyId: cell.source?.form === 'supply' ? cell.source.id : null,
    controllerId: cell.source?.form === 'controller' ? cell.source.id : null,
    metres: read.value,
  }
  return changeRecords(name, { add: [{ kind: 'routeLength', record }] })
}

function setWaste({ jobId, termsId }: Quantities, percent: number | null): Promise<boolean> {
  const name = 'Set the waste of cable'
  if (termsId !== null)
    return changeRecords(name, {
      set: [{ kind: 'jobTerms', id: termsId, fields: { cableWastePercent: percent } }],
    })
  const record = {
    id: 'new:1',
    jobId,
    standbyHours: null,
    alarmMinutes: null,
    fireAlarmStandbyHours: null,
    ageingPercent: null,
    coolestCelsius: null,
    warmestCelsius: null,
    cableWastePercent: percent,
  }
  return changeRecords(name, { add: [{ kind: 'jobTerms', record }] })
}

function QuantityTable({
  job,
  quantities,
  locked,
}: {
  readonly job: OpenJob
  readonly quantities: Quantities
  readonly locked: boolean
}) {
  const { units } = job.frame.job
  const { cables, wastePercent, conductors, landedEnds, ends } = quantities
  const unit = cableUnit(units)
  const length = (metres: number | null): string =>
    metres === null ? '—' : Math.round(Number(writeCableLength(metres, units))).toLocaleString('en')
  return (
    <section aria-label="Quantities">
      <SheetHeading
        level={2}
        title="Quantities"
        facts={`${conductors} conductors, ${landedEnds} of ${ends} ends landed`}
        actions={
          <label className="waste">
            Waste, %{' '}
            <AmountCell
              label="Waste of cable, %"
              value={wastePercent}
              unit="%"
              locked={locked}
              onSet={(percent) => setWaste(quantities, percent)}
            />
          </label>
        }
      />
      <table className="plain-table">
        <thead>
          <tr>
            <th scope="col">Cable</th>
            <th scope="col">By level</th>
            <th scope="col" className="end">
              Runs
            </th>
            <th scope="col" className="end">
              Length, {unit}
            </th>
            <th scope="col" className="end">
              With waste, {unit}
            </th>
            <th scope="col" className="end">
              Not measured
            </th>
          </tr>
        </thead>
        <tbody>
          {cables.map((each) => (
            <tr key={each.cable} className={each.withoutLength > 0 ? 'question' : ''}>
              <td className="mark">{each.cable}</td>
              <td className="wrap soft">
                {each.levels.map(({ name, metres }) => `${name}: ${length(metres)}`).join('; ')}
              </td>
              <td className="end">{each.runs}</td>
              <td className="end">{length(each.metres)}</td>
              <td className="end">{length(each.withWasteMetres)}</td>
              <td className="end">{each.withoutLength === 0 ? '' : each.withoutLength}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}
