import { counted } from '../../../core/job/index.ts'
import { useState } from 'react'
import type { PowerRead } from '../../../core/contract/index.ts'
import {
  addSupply,
  figure,
  setTerms,
  type BuildingSum,
  type OutputLine,
  type PowerOverview,
  type SupplyLine,
} from '../../../core/power/index.ts'
import { ask } from '../../bridge.ts'
import { Button, Choice, Dialog, EmptySheet, SheetHeading } from '../../ui/index.ts'
import { keep } from '../keep.ts'
import { AmountCell } from '../parts/index.ts'
import { goTo, hrefOf } from '../place.ts'
import { useAsked } from '../use-asked.ts'
import { makeChange, useWindow, working } from '../window-state.ts'
import { DegreesCell } from './degrees-cell.tsx'
import {
  Explained,
  holdingWords,
  LoadBar,
  LowestFigure,
  markOf,
  verdictWords,
  worstLoadWords,
} from './figures.tsx'
import { NetworkSection } from './network-section.tsx'
import { choose, point, unfold, usePower } from './power-state.ts'
import './power.css'

/** All supplies of the job, each with its outputs, and what stands behind their figures. */
export function PowerSheet() {
  const job = useWindow((state) => state.job)
  const told = useAsked('power.read', {})
  const [printing, setPrinting] = useState(false)
  if (job === null || told === null) return null
  const locked = job.state.readOnly !== null
  const { overview, network } = told
  const some = overview.supplies.length > 0
  return (
    <div className="page power-page">
      <SheetHeading
        title="Power"
        facts={factsOf(overview)}
        actions={
          <>
            {!locked && <Button onPress={() => void addOne(told)}>Add a supply</Button>}
            <Button disabled={!some} onPress={() => setPrinting(true)}>
              Print or save…
            </Button>
          </>
        }
      />
      {some ? (
        <Supplies overview={overview} />
      ) : (
        <EmptySheet>
          No supply yet. Add one, then say on Runs &amp; points which cable goes from its outputs to which
          device.
        </EmptySheet>
      )}
      {some && <Buildings sums={overview.buildings} />}
      <JobTerms overview={overview} locked={locked} />
      <NetworkSection network={network} locked={locked} />
      <p className="padded soft power-words">
        Volts, loads and hours are worked out from what the job says. Local codes, listings and licensed
        practice decide; measure before a device is relied on.
      </p>
      {printing && <PrintPower overview={overview} onClose={() => setPrinting(false)} />}
    </div>
  )
}

const usualOutputs = 8
const addOne = ({ overview }: PowerRead): Promise<boolean> =>
  makeChange(
    addSupply(
      overview.supplies.map(({ mark }) => mark),
      overview.supplies.length,
      usualOutputs,
    ),
  )

function factsOf({ supplies }: PowerOverview): string {
  const outputs = supplies.reduce((sum, each) => sum + each.outputs.length, 0)
  const bad = supplies.reduce((sum, { troubles }) => sum + troubles.length, 0)
  const open = supplies.reduce((sum, { questions }) => sum + questions, 0)
  return [
    counted(supplies.length, 'supply', 'supplies'),
    counted(outputs, 'output'),
    bad === 0 ? 'nothing outside its limits' : `${bad} not met`,
    ...(open === 0 ? [] : [counted(open, 'open question')]),
  ].join(', ')
}

function Supplies({ overview }: { readonly overview: PowerOverview }) {
  const unfolded = usePower((state) => state.unfolded)
  return (
    <table className="plain-table power-table">
      <thead>
        <tr>
          <th scope="col">Supply</th>
          <th scope="col">Where</th>
          <th scope="col">Rated</th>
          <th scope="col">Holding</th>
          <th scope="col">Worst moment</th>
          <th scope="col">Battery</th>
          <th scope="col" className="end">
            Lasts
          </th>
          <th scope="col" className="end">
            Wanted
          </th>
          <th scope="col" className="end">
            Required
          </th>
          <th scope="col">Lowest volts</th>
          <th scope="col" className="end">
            Open
          </th>
        </tr>
      </thead>
      <tbody>
        {overview.supplies.flatMap((line) => [
          <SupplyRow key={line.id} line={line} open={unfolded.has(line.id)} />,
          ...(unfolded.has(line.id)
            ? line.outputs.map((each) => <OutputRow key={each.id} supplyId={line.id} line={each} />)
            : []),
        ])}
      </tbody>
    </table>
  )
}

const toSupply = (supplyId: string, outputId?: string): void => {
  if (outputId !== undefined) choose(supplyId, outputId)
  goTo({ sheet: 'supply', supplyId })
}

function SupplyRow({ line, open }: { readonly line: SupplyLine; readonly open: boolean }) {
  const { id, mark, where, load, battery, lowest, ratedVolts, verdict, questions } = line
  return (
    <tr
      className={verdict === 'not met' ? 'not-met' : verdict === 'not known' ? 'question' : ''}
      onMouseEnter={() => point({ form: 'supply', supplyId: id })}
    >
      <td className="mark">
        <button
          type="button"
          className="fold"
          aria-expanded={open}
          aria-label={`Outputs of ${mark}`}
          onClick={() => unfold(id)}
          onFocus={() => point({ form: 'supply', supplyId: id })}
        >
          <svg viewBox="0 0 10 10" aria-hidden="true" className={open ? 'open-arrow' : ''}>
            <path d="M3 1 L7 5 L3 9" />
          </svg>
        </button>
        <a
          className="link"
          href={hrefOf({ sheet: 'supply', supplyId: id })}
          onFocus={() => point({ form: 'supply', supplyId: id })}
        >
          {mark}
        </a>
      </td>
      <td>{where}</td>
      <td className="nowrap">
        {ratedVolts === null ? '?' : ratedVolts} V, {load.ratedAmps === null ? '?' : load.ratedAmps} A
      </td>
      <td>
        <Explained
          about={{ form: 'load', supplyId: id }}
          label={`${mark}: ${holdingWords(load)}`}
          mark={markOf(load.withinLimit)}
        >
          <LoadBar
            amps={load.holdingAmps}
            rated={load.ratedAmps}
            limit={load.limitAmps}
            verdict={load.withinLimit}
          />
        </Explained>
      </td>
      <td>
        <Explained
          about={{ form: 'load', supplyId: id }}
          label={`${mark}: ${worstLoadWords(load)}`}
          mark={markOf(load.withinRating)}
        >
          <LoadBar amps={load.worstAmps} rated={load.ratedAmps} limit={null} verdict={load.withinRating} />
        </Explained>
      </td>
      <td className="nowrap">{batteryHas(battery)}</td>
      <td className="end">
        {battery.verdict !== 'does not apply' && (
          <Explained
            about={{ form: 'battery', supplyId: id }}
            label={`${mark}: battery lasts ${lastsWords(battery)}, ${battery.verdict}`}
            mark={markOf(battery.verdict)}
          >
            {lastsWords(battery)}
          </Explained>
        )}
      </td>
      <td className="end nowrap">{battery.wantedHours === null ? '?' : `${battery.wantedHours} h`}</td>
      <td className="end nowrap">
        {battery.requiredAmpHours === null ? '' : `${figure(battery.requiredAmpHours, 1)} Ah`}
      </td>
      <td className="nowrap">
        {lowest !== null && <LowestFigure lowest={lowest} onPress={() => toSupply(id, lowest.outputId)} />}
      </td>
      <td className={questions > 0 ? 'end open' : 'end'}>{questions > 0 ? questions : ''}</td>
    </tr>
  )
}

const batteryHas = ({ has, ampHours }: SupplyLine['battery']): string =>
  has === false ? 'none' : ampHours === null ? 'not known' : `${ampHours} Ah`

const lastsWords = ({ lastsHours, endless }: SupplyLine['battery']): string =>
  endless ? 'no end' : lastsHours === null ? 'not known' : `${figure(lastsHours, 1)} h`

function OutputRow({ supplyId, line }: { readonly supplyId: string; readonly line: OutputLine }) {
  const { id, name, fullName, load, fuse, classTwo, devices, lowest, verdict, questions } = line
  return (
    <tr className={verdict === 'not met' ? 'not-met output-row' : 'output-row'}>
      <td className="indent">
        <button type="button" className="link" aria-label={fullName} onClick={() => toSupply(supplyId, id)}>
          Output {name}
        </button>
      </td>
      <td className="soft">{devices === 0 ? 'nothing on it' : counted(devices, 'device')}</td>
      <td className="nowrap">{load.ratedAmps === null ? '?' : load.ratedAmps} A</td>
      <td>
        {devices > 0 && (
          <LoadBar
            amps={load.holdingAmps}
            rated={load.ratedAmps}
            limit={load.limitAmps}
            verdict={load.withinLimit}
          />
        )}
      </td>
      <td>
        {devices > 0 && (
          <LoadBar amps={load.worstAmps} rated={load.ratedAmps} limit={null} verdict={load.withinRating} />
        )}
      </td>
      <td colSpan={4} className="soft">
        <span className={markOf(fuse.verdict)}>
          {fuse.amps === 'none' ? 'no fuse' : fuse.amps === null ? 'fuse not known' : `fuse ${fuse.amps} A`}
        </span>
        ,{' '}
        <span className={markOf(classTwo)}>
          Class 2 {classTwo === 'does not apply' ? 'not asked' : verdictWords[classTwo]}
        </span>
      </td>
      <td className="nowrap">
        {lowest !== null && <LowestFigure lowest={lowest} onPress={() => toSupply(supplyId, id)} />}
      </td>
      <td className={questions > 0 ? 'end open' : 'end'}>{questions > 0 ? questions : ''}</td>
    </tr>
  )
}

function Buildings({ sums }: { readonly sums: readonly BuildingSum[] }) {
  const words = (value: number | null, decimals: number, unit: string): string =>
    value === null ? 'not known' : `${figure(value, decimals)} ${unit}`
  return (
    <section aria-label="By building">
      <SheetHeading level={2} title="By building" />
      <table className="plain-table">
        <thead>
          <tr>
            <th scope="col">Building</th>
            {[
              'Supplies',
              'Outputs',
              'Devices',
              'Holding',
              'Rated',
              'Heat in supplies',
              'Not met',
              'Open',
            ].map((each) => (
              <th key={each} scope="col" className="end">
                {each}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {sums.map((each) => (
            <tr key={each.name}>
              <td className="mark">{each.name}</td>
              <td className="end">{each.supplies}</td>
              <td className="end">{each.outputs}</td>
              <td className="end">{each.devices}</td>
              <td className={each.holdingAmps === null ? 'end open' : 'end'}>
                {words(each.holdingAmps, 2, 'A')}
              </td>
              <td className={each.ratedAmps === null ? 'end open' : 'end'}>
                {words(each.ratedAmps, 1, 'A')}
              </td>
              <td className={each.heatWatts === null ? 'end open' : 'end'}>
                {words(each.heatWatts, 0, 'W')}
              </td>
              <td className={each.notMet > 0 ? 'end broken' : 'end'}>{each.notMet}</td>
              <td className={each.questions > 0 ? 'end open' : 'end'}>{each.questions}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

/** What holds for the job unless a supply says otherwise. */
function JobTerms({ overview, locked }: { readonly overview: PowerOverview; readonly locked: boolean }) {
  const { terms, jobId, inForce, loadingLimitPercent } = overview
  const set = (words: string, fields: Parameters<typeof setTerms<'jobTerms'>>[4]): Promise<boolean> =>
    makeChange(setTerms(`Set ${words} for the job`, 'jobTerms', terms, jobId, fields))
  return (
    <section aria-label="Terms of the job">
      <SheetHeading level={2} title="Terms of the job" facts="where a supply says nothing of its own" />
      <dl className="fact-grid">
        <div>
          <dt>Standby, h</dt>
          <dd>
            <AmountCell
              label="Standby hours"
              unit="hours"
              value={terms?.standbyHours ?? null}
              locked={locked}
              onSet={(standbyHours) => set('standby hours', { standbyHours })}
            />
          </dd>
        </div>
        <div>
          <dt>Alarm after it, min</dt>
          <dd>
            <AmountCell
              label="Alarm minutes"
              unit="minutes"
              value={terms?.alarmMinutes ?? null}
              locked={locked}
              onSet={(alarmMinutes) => set('alarm minutes', { alarmMinutes })}
            />
          </dd>
        </div>
        <div>
          <dt>Fire alarm battery, h</dt>
          <dd>
            <AmountCell
              label="Hours the fire alarm system runs on its own battery"
              unit="hours"
              value={terms?.fireAlarmStandbyHours ?? null}
              locked={locked}
              onSet={(fireAlarmStandbyHours) => set('the fire alarm battery', { fireAlarmStandbyHours })}
            />
          </dd>
        </div>
        <div>
          <dt>Ageing of batteries, %</dt>
          <dd>
            <AmountCell
              label="Ageing of batteries"
              unit="per cent"
              value={terms?.ageingPercent ?? null}
              hint={`${inForce.ageingPercent}, usual`}
              locked={locked}
              onSet={(ageingPercent) => set('ageing', { ageingPercent })}
            />
          </dd>
        </div>
        <div>
          <dt>Coolest cable, °C</dt>
          <dd>
            <DegreesCell
              label="Coolest cable"
              value={terms?.coolestCelsius ?? null}
              hint={`${inForce.coolestCelsius}, usual`}
              locked={locked}
              onSet={(coolestCelsius) => set('the coolest cable', { coolestCelsius })}
            />
          </dd>
        </div>
        <div>
          <dt>Warmest cable, °C</dt>
          <dd>
            <DegreesCell
              label="Warmest cable"
              value={terms?.warmestCelsius ?? null}
              hint={`${inForce.warmestCelsius}, usual`}
              locked={locked}
              onSet={(warmestCelsius) => set('the warmest cable', { warmestCelsius })}
            />
          </dd>
        </div>
        <div>
          <dt>Loading limit, % of rating</dt>
          <dd>
            <AmountCell
              label="Loading limit"
              unit="per cent"
              whole
              value={loadingLimitPercent}
              locked={locked}
              onSet={(percent) =>
                makeChange({ does: 'set job', fields: { loadingLimitPercent: percent ?? usualLimit } })
              }
            />
          </dd>
        </div>
      </dl>
    </section>
  )
}

const usualLimit = 80

const prints = {
  supplies: 'Power sheets, one for each supply',
  batteries: 'Battery sheet with its working',
  risers: 'Riser diagram for each building',
  xlsx: 'Workbook: supplies, outputs, devices',
  csv: 'CSV of the devices',
} as const
type Print = keyof typeof prints

function PrintPower({
  overview,
  onClose,
}: {
  readonly overview: PowerOverview
  readonly onClose: () => void
}) {
  const [what, setWhat] = useState<Print>('supplies')
  const print = async (): Promise<void> => {
    const made = await working('Setting the pages', () =>
      what === 'xlsx' || what === 'csv'
        ? ask('export.power', { form: what })
        : ask('print.power', what === 'supplies' ? { what, supplyIds: null } : { what }),
    )
    if (made === null) return
    keep(made)
    onClose()
  }
  return (
    <Dialog
      title="Print or save power"
      open
      onClose={onClose}
      actions={
        <>
          <Button onPress={onClose}>Leave it</Button>
          <Button kind="main" onPress={() => void print()}>
            {what === 'xlsx' || what === 'csv' ? 'Make the file' : 'Make the PDF'}
          </Button>
        </>
      }
    >
      <p>
        {counted(overview.supplies.length, 'supply', 'supplies')} as they stand now. What is not known is
        printed as a question.
      </p>
      <Choice
        label="What"
        autoFocus
        value={what}
        options={Object.entries(prints).map(([key, label]) => ({ key, label }))}
        onChange={(key) => setWhat(key as Print)}
      />
    </Dialog>
  )
}
