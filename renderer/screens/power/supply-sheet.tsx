import {
  addOutput,
  changeOf,
  setOutput,
  setSupply,
  setTerms,
  type SupplyPage,
  type SupplyRemedyPage,
} from '../../../core/power/index.ts'
import { figure } from '../../../core/power/index.ts'
import { ask } from '../../bridge.ts'
import { Button, SheetHeading } from '../../ui/index.ts'
import { keep } from '../keep.ts'
import { AmountCell, SelectCell } from '../parts/index.ts'
import { goTo, hrefOf } from '../place.ts'
import { TextCell } from '../text-cell.tsx'
import { useAsked } from '../use-asked.ts'
import { makeChange, useWindow, working } from '../window-state.ts'
import { DegreesCell } from './degrees-cell.tsx'
import { Explained, holdingWords, LoadBar, LowestFigure, markOf, worstLoadWords } from './figures.tsx'
import { OutputSection } from './output-section.tsx'
import { choose, point, usePower } from './power-state.ts'
import { putRight } from './put-right.ts'
import './power.css'

/** One supply: what it is, its battery, its outputs, and one output with its tree, its volts and what would put it right. */
export function SupplySheet({ supplyId }: { readonly supplyId: string }) {
  const job = useWindow((state) => state.job)
  const page = useAsked('power.supply', { supplyId })
  const chosen = usePower((state) => state.chosen[supplyId])
  if (job === null || page === null) return null
  const locked = job.state.readOnly !== null
  const { line } = page
  const outputId = outputInView(page, chosen)
  return (
    <div className="page power-page supply-page">
      <SheetHeading
        title={line.mark}
        facts={
          <>
            {line.where}
            {line.where === '' ? '' : ', '}
            {line.devices} {line.devices === 1 ? 'device' : 'devices'},{' '}
            <span className={markOf(line.verdict)}>
              {line.verdict === 'met' ? 'nothing outside its limits' : line.verdict}
            </span>
          </>
        }
        actions={
          <>
            <a className="link" href={hrefOf({ sheet: 'power' })}>
              All supplies
            </a>
            <Button onPress={() => void printSheet(supplyId)}>Power sheet</Button>
          </>
        }
      />
      <Troubles page={page} locked={locked} />
      <Facts page={page} locked={locked} />
      <Outputs page={page} chosen={outputId} locked={locked} />
      {outputId !== null && <OutputSection key={outputId} outputId={outputId} locked={locked} />}
      {!locked && (
        <p className="padded">
          <Button kind="quiet" label={`Remove ${line.mark}`} onPress={() => void remove(page)}>
            Remove {line.mark}
          </Button>
        </p>
      )}
    </div>
  )
}

/** The one chosen, else the first in trouble, else the first with anything on it. */
function outputInView({ line }: SupplyPage, chosen: string | undefined): string | null {
  const { outputs } = line
  const wanted =
    outputs.find(({ id }) => id === chosen) ??
    outputs.find(({ verdict }) => verdict === 'not met') ??
    outputs.find(({ devices }) => devices > 0) ??
    outputs[0]
  return wanted?.id ?? null
}

async function printSheet(supplyId: string): Promise<void> {
  const made = await working('Setting the sheet', () =>
    ask('print.power', { what: 'supplies', supplyIds: [supplyId] }),
  )
  if (made !== null) keep(made)
}

async function remove({ record }: SupplyPage): Promise<void> {
  const done = await makeChange(
    changeOf(`Remove ${record.mark}`, { remove: [{ kind: 'supply', id: record.id }] }),
  )
  if (done) goTo({ sheet: 'power' })
}

/** What is not met, and what would put the supply itself right, each with the deed that does it. */
function Troubles({ page, locked }: { readonly page: SupplyPage; readonly locked: boolean }) {
  const { line, remedies } = page
  if (line.troubles.length === 0) return null
  return (
    <section aria-label="Not met" className="power-troubles">
      <ul>
        {line.troubles.map(({ sentence, outputId }) => (
          <li key={sentence}>
            <span className="broken">{sentence}</span>{' '}
            {outputId !== null && (
              <button
                type="button"
                className="link"
                aria-label={`Show what would put it right: ${sentence}`}
                onClick={() => choose(line.id, outputId)}
              >
                What would put it right
              </button>
            )}
          </li>
        ))}
      </ul>
      {remedies.map((each) => (
        <SupplyRemedyLine key={each.sentence} remedy={each} locked={locked} />
      ))}
    </section>
  )
}

function SupplyRemedyLine({
  remedy,
  locked,
}: {
  readonly remedy: SupplyRemedyPage
  readonly locked: boolean
}) {
  const { sentence, command } = remedy
  return (
    <p className="remedy">
      {command !== null && !locked && (
        <Button kind="main" label={`Do it: ${sentence}`} onPress={() => void putRight(command)}>
          Do it
        </Button>
      )}
      <span>{sentence}</span>
    </p>
  )
}

const hasBattery = ({ record, terms }: SupplyPage): string | null =>
  terms?.hasBattery === false || record.batteryAmpHours === 0
    ? 'none'
    : terms?.hasBattery === true || record.batteryAmpHours !== null
      ? 'yes'
      : null

function Facts({ page, locked }: { readonly page: SupplyPage; readonly locked: boolean }) {
  const { record, terms, line, jobStandbyHours, jobAlarmMinutes } = page
  const { mark } = record
  const set = (words: string, fields: Parameters<typeof setSupply>[2]): Promise<boolean> =>
    makeChange(setSupply(`Set ${words} of ${mark}`, record.id, fields))
  const term = (words: string, fields: Parameters<typeof setTerms<'supplyTerms'>>[4]): Promise<boolean> =>
    makeChange(setTerms(`Set ${words} of ${mark}`, 'supplyTerms', terms, record.id, fields))
  const amount = (
    name: string,
    unit: string,
    value: number | null,
    onSet: (value: number | null) => unknown,
    hint = 'not known',
  ) => (
    <div key={name} className={value === null && hint === 'not known' ? 'question' : ''}>
      <dt>{name}</dt>
      <dd>
        <AmountCell
          label={name}
          unit={unit}
          value={value}
          hint={hint === 'not known' ? '—' : hint}
          locked={locked}
          onSet={onSet}
        />
      </dd>
    </div>
  )
  const battery = hasBattery(page)
  return (
    <dl className="fact-grid supply-facts">
      <div>
        <dt>Mark</dt>
        <dd>
          <TextCell
            text={mark}
            label="Mark"
            locked={locked}
            onSet={(text) =>
              text === null
                ? undefined
                : makeChange(setSupply(`Name ${mark} ${text}`, record.id, { mark: text }))
            }
          />
        </dd>
      </div>
      <div>
        <dt>Where</dt>
        <dd>
          <TextCell
            text={record.whereText}
            label="Where it stands"
            hint={line.where === '' ? '—' : line.where}
            locked={locked}
            onSet={(whereText) => set('the place', { whereText })}
          />
        </dd>
      </div>
      {amount('Rated volts, V', 'volts', record.ratedVolts, (ratedVolts) =>
        set('the rated volts', { ratedVolts }),
      )}
      {amount('Rated current, A', 'amps', record.ratedAmps, (ratedAmps) =>
        set('the rated current', { ratedAmps }),
      )}
      {amount('Lowest on mains, V', 'volts', terms?.lowestVolts ?? null, (lowestVolts) =>
        term('the lowest volts', { lowestVolts }),
      )}
      {amount('Highest volts, V', 'volts', terms?.highestVolts ?? null, (highestVolts) =>
        term('the highest volts', { highestVolts }),
      )}
      {amount('Takes itself, A', 'amps', terms?.ownAmps ?? null, (ownAmps) =>
        term('its own current', { ownAmps }),
      )}
      {amount('Efficiency, %', 'per cent', terms?.efficiencyPercent ?? null, (efficiencyPercent) =>
        term('the efficiency', { efficiencyPercent }),
      )}
      <div className={battery === null ? 'question' : ''}>
        <dt>Battery</dt>
        <dd>
          <SelectCell
            label="Battery"
            value={battery}
            options={[
              { key: 'yes', label: 'has one' },
              { key: 'none', label: 'has none' },
            ]}
            none="—"
            locked={locked}
            onSet={(value) => term('the battery', { hasBattery: value === null ? null : value === 'yes' })}
          />
        </dd>
      </div>
      {battery !== 'none' && (
        <>
          {amount('Battery, Ah', 'ampere hours', record.batteryAmpHours, (batteryAmpHours) =>
            set('the battery', { batteryAmpHours }),
          )}
          {amount('Battery, V', 'volts', record.batteryVolts, (batteryVolts) =>
            set('the battery’s volts', { batteryVolts }),
          )}
          <div className={terms?.batteryCelsius == null ? 'question' : ''}>
            <dt>Battery at, °C</dt>
            <dd>
              <DegreesCell
                label="Battery temperature"
                value={terms?.batteryCelsius ?? null}
                hint="—"
                locked={locked}
                onSet={(batteryCelsius) => term('the battery’s temperature', { batteryCelsius })}
              />
            </dd>
          </div>
          {amount('Charges with, A', 'amps', terms?.chargingAmps ?? null, (chargingAmps) =>
            term('the charging current', { chargingAmps }),
          )}
          <div>
            <dt>Battery fitted on</dt>
            <dd>
              <TextCell
                text={record.batteryInstalledOn}
                label="Battery fitted on"
                hint="year-month-day"
                locked={locked}
                onSet={(batteryInstalledOn) => set('the day its battery was fitted', { batteryInstalledOn })}
              />
            </dd>
          </div>
        </>
      )}
      {amount(
        'Standby, h',
        'hours',
        record.standbyHours,
        (standbyHours) => set('the standby hours', { standbyHours }),
        jobStandbyHours === null ? 'not known' : `${jobStandbyHours}, of the job`,
      )}
      {amount(
        'Alarm after it, min',
        'minutes',
        record.alarmMinutes,
        (alarmMinutes) => set('the alarm minutes', { alarmMinutes }),
        jobAlarmMinutes === null ? 'not known' : `${jobAlarmMinutes}, of the job`,
      )}
      <div>
        <dt>Lasts</dt>
        <dd className="fixed">
          <Explained
            about={{ form: 'battery', supplyId: record.id }}
            label={`${mark}: battery lasts ${lastsWords(line.battery)}`}
            mark={markOf(line.battery.verdict)}
          >
            {lastsWords(line.battery)}
          </Explained>
        </dd>
      </div>
      <div>
        <dt>Holding, A</dt>
        <dd className="fixed">
          <Explained
            about={{ form: 'load', supplyId: record.id }}
            label={`${mark} holding ${loadWords(line.load.holdingAmps, line.load.ratedAmps)}`}
            mark={markOf(line.load.withinLimit)}
          >
            {loadWords(line.load.holdingAmps, line.load.ratedAmps)}
          </Explained>
        </dd>
      </div>
      <div>
        <dt>Worst moment, A</dt>
        <dd className="fixed">
          <Explained
            about={{ form: 'load', supplyId: record.id }}
            label={`${mark} at its worst moment ${loadWords(line.load.worstAmps, line.load.ratedAmps)}`}
            mark={markOf(line.load.withinRating)}
          >
            {loadWords(line.load.worstAmps, line.load.ratedAmps)}
          </Explained>
        </dd>
      </div>
      <div className="wide">
        <dt>Notes</dt>
        <dd>
          <TextCell
            text={record.notes}
            label="Notes"
            locked={locked}
            onSet={(notes) => set('the notes', { notes })}
          />
        </dd>
      </div>
    </dl>
  )
}

function lastsWords({
  endless,
  lastsHours,
  requiredAmpHours,
  verdict,
}: SupplyPage['line']['battery']): string {
  if (endless) return 'no end of hours'
  if (lastsHours === null) return verdict === 'does not apply' ? 'none asked' : 'not known'
  return `${figure(lastsHours, 1)} h${requiredAmpHours === null ? '' : `; ${figure(requiredAmpHours, 1)} Ah required`}`
}

const loadWords = (amps: number | null, rated: number | null): string =>
  amps === null
    ? 'not known'
    : `${figure(amps, 2)}${rated === null ? '' : `, ${figure((amps / rated) * 100, 0)} % of rating`}`

const classTwoWords = [
  { key: 'none', label: 'not Class 2' },
  { key: 'inherent', label: 'limits itself' },
  { key: 'by overcurrent device', label: 'by its fuse' },
]

function Outputs({
  page,
  chosen,
  locked,
}: {
  readonly page: SupplyPage
  readonly chosen: string | null
  readonly locked: boolean
}) {
  const { line, outputRecords, record } = page
  return (
    <section aria-label="Outputs">
      <SheetHeading
        level={2}
        title="Outputs"
        facts="choose one to see its cable, its volts and what would put it right"
        actions={
          !locked && (
            <Button
              kind="quiet"
              onPress={() =>
                void makeChange(
                  addOutput(
                    record.id,
                    line.outputs.length,
                    nextOutputName(line.outputs.map(({ name }) => name)),
                  ),
                )
              }
            >
              Add an output
            </Button>
          )
        }
      />
      <table className="plain-table power-table">
        <thead>
          <tr>
            <th scope="col">Output</th>
            <th scope="col">Holding</th>
            <th scope="col">Worst moment</th>
            <th scope="col">Rated, A</th>
            <th scope="col">Fuse, A</th>
            <th scope="col">Class 2</th>
            <th scope="col" className="end">
              Devices
            </th>
            <th scope="col">Lowest volts</th>
            <th scope="col" className="end">
              Open
            </th>
          </tr>
        </thead>
        <tbody>
          {outputRecords.map(({ record: output, terms }) => {
            const own = line.outputs.find(({ id }) => id === output.id)
            if (own === undefined) return null
            const { load, lowest, devices, fullName } = own
            const set = (words: string, fields: Parameters<typeof setOutput>[2]): Promise<boolean> =>
              makeChange(setOutput(`Set ${words} of ${fullName}`, output.id, fields))
            const term = (
              words: string,
              fields: Parameters<typeof setTerms<'outputTerms'>>[4],
            ): Promise<boolean> =>
              makeChange(setTerms(`Set ${words} of ${fullName}`, 'outputTerms', terms, output.id, fields))
            return (
              <tr
                key={output.id}
                className={`${output.id === chosen ? 'chosen' : ''} ${own.verdict === 'not met' ? 'not-met' : own.verdict === 'not known' ? 'question' : ''}`}
              >
                <td className="mark">
                  <button
                    type="button"
                    className="link"
                    aria-pressed={output.id === chosen}
                    aria-label={fullName}
                    onClick={() => choose(record.id, output.id)}
                  >
                    Output {own.name}
                  </button>
                </td>
                <td title={holdingWords(load)}>
                  {devices > 0 && (
                    <LoadBar
                      amps={load.holdingAmps}
                      rated={load.ratedAmps}
                      limit={load.limitAmps}
                      verdict={load.withinLimit}
                    />
                  )}
                </td>
                <td title={worstLoadWords(load)}>
                  {devices > 0 && (
                    <LoadBar
                      amps={load.worstAmps}
                      rated={load.ratedAmps}
                      limit={null}
                      verdict={load.withinRating}
                    />
                  )}
                </td>
                <td className="short">
                  <AmountCell
                    label={`Rated current of ${fullName}`}
                    unit="amps"
                    value={output.ratedAmps}
                    hint="?"
                    locked={locked}
                    onSet={(ratedAmps) => set('the rated current', { ratedAmps })}
                  />
                </td>
                <td className="short">
                  <AmountCell
                    label={`Fuse of ${fullName}; 0 for none`}
                    unit="amps"
                    value={terms?.hasFuse === false ? 0 : output.fuseAmps}
                    hint="?"
                    locked={locked}
                    onSet={(amps) => setFuse(fullName, output.id, terms, amps)}
                  />
                </td>
                <td className={markOf(own.classTwo)}>
                  <SelectCell
                    label={`Class 2 of ${fullName}`}
                    value={terms?.classTwo ?? null}
                    options={classTwoWords}
                    none="not known"
                    locked={locked}
                    onSet={(classTwo) => term('Class 2', { classTwo })}
                  />
                </td>
                <td className="end">{devices}</td>
                <td className="nowrap">
                  {lowest !== null && (
                    <LowestFigure lowest={lowest} onPress={() => choose(record.id, output.id)} />
                  )}
                </td>
                <td
                  className={own.questions > 0 ? 'end open' : 'end'}
                  onMouseEnter={() => point({ form: 'supply', supplyId: record.id })}
                >
                  {own.questions > 0 ? own.questions : ''}
                </td>
              </tr>
            )
          })}
        </tbody>
      </table>
    </section>
  )
}

function nextOutputName(taken: readonly string[]): string {
  let number = taken.length + 1
  while (taken.includes(String(number))) number += 1
  return String(number)
}

/** 0 is known to have none. */
function setFuse(
  name: string,
  outputId: string,
  terms: SupplyPage['outputRecords'][number]['terms'],
  amps: number | null,
): Promise<boolean> {
  const fuse = setOutput(`Set the fuse of ${name}`, outputId, { fuseAmps: amps === 0 ? null : amps })
  const has = setTerms(fuse.name, 'outputTerms', terms, outputId, {
    hasFuse: amps === null ? null : amps > 0,
  })
  return makeChange({ ...fuse, add: has.add, set: [...fuse.set, ...has.set] })
}
