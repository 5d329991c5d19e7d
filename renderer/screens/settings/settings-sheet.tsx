import { counted } from '../../../core/job/index.ts'
import { useState } from 'react'
import type { BatchInShort, SettingsOverview } from '../../../core/contract/index.ts'
import type { BenchFitting } from '../../../core/settings/index.ts'
import { ask } from '../../bridge.ts'
import {
  Button,
  Choice,
  Citation,
  EmptySheet,
  MarginFacts,
  MarginText,
  MarginTitle,
  SheetHeading,
} from '../../ui/index.ts'
import { keep } from '../keep.ts'
import { hrefOf } from '../place.ts'
import { useAsked } from '../use-asked.ts'
import { makeChange, useWindow, working, type OpenJob } from '../window-state.ts'
import { usePointed } from './setting-state.ts'
import './settings.css'

const allLevels = 'all'

/** The bench of the whole job: devices that are set alike together, and what is not as it should be. */
export function SettingsSheet() {
  const job = useWindow((state) => state.job)
  const [levelId, setLevelId] = useState<string | null>(null)
  const overview = useAsked('settings.read', { levelId })
  if (job === null) return null
  const locked = job.state.readOnly !== null
  return (
    <div className="page settings-page">
      <SheetHeading
        title="Settings"
        facts="what each device is set to, before it is mounted"
        actions={
          <>
            <Choice
              label="Level"
              options={[
                { key: allLevels, label: 'All levels' },
                ...job.frame.levels.map(({ id, name }) => ({ key: id as string, label: name })),
              ]}
              value={levelId ?? allLevels}
              onChange={(key) => setLevelId(key === allLevels ? null : key)}
            />
            <Button
              disabled={overview === null || overview.batches.length === 0}
              onPress={() => void printBench(levelId)}
            >
              Bench sheet
            </Button>
          </>
        }
      />
      {overview !== null && <Findings overview={overview} job={job} />}
      {overview !== null && <Bench overview={overview} levelId={levelId} locked={locked} />}
    </div>
  )
}

async function printBench(levelId: string | null): Promise<void> {
  const made = await working('Setting the bench sheet', () =>
    ask('print.settings', { benchOfLevelId: levelId }),
  )
  if (made !== null) keep(made)
}

function Findings({ overview, job }: { readonly overview: SettingsOverview; readonly job: OpenJob }) {
  const { findings, consequences } = overview
  if (findings.length === 0) return null
  return (
    <section aria-label="Not as it should be">
      <SheetHeading level={2} title="Not as it should be" facts={counted(findings.length, 'finding')} />
      <table className="plain-table">
        <thead>
          <tr>
            <th scope="col">Opening</th>
            <th scope="col">Finding</th>
            <th scope="col">What it changes</th>
            <th scope="col">Since</th>
            <th scope="col">Settled by</th>
          </tr>
        </thead>
        <tbody>
          {findings.map((each) => {
            const changes = [
              ...each.consequences,
              ...(consequences.find(({ openingId }) => openingId === each.openingId)?.sentences ?? []),
            ]
            return (
              <tr key={`${each.openingId} ${each.tag} ${each.words}`} className="question">
                <td className="mark">
                  {each.openingId === null ? (
                    'typical'
                  ) : (
                    <a className="link" href={hrefOf({ sheet: 'opening', openingId: each.openingId })}>
                      {job.rows.get(each.openingId)?.mark ?? each.mark}
                    </a>
                  )}
                </td>
                <td className="wrap">{each.words}</td>
                <td className="wrap">{changes.length === 0 ? 'no passage' : changes.join(' ')}</td>
                <td>{sinceWords(each.since)}</td>
                <td className="wrap">{each.whoCanSettle}</td>
              </tr>
            )
          })}
        </tbody>
      </table>
    </section>
  )
}

function sinceWords(since: SettingsOverview['findings'][number]['since']): string {
  if (since === null) return ''
  const before = since.notBefore?.slice(0, 10)
  const after = since.notAfter?.slice(0, 10)
  if (before !== undefined && after !== undefined && before !== after) return `${before} to ${after}`
  return after ?? before ?? ''
}

function Bench({
  overview,
  levelId,
  locked,
}: {
  readonly overview: SettingsOverview
  readonly levelId: string | null
  readonly locked: boolean
}) {
  const [open, setOpen] = useState<string | null>(null)
  const { batches } = overview
  if (batches.length === 0)
    return (
      <EmptySheet>
        Nothing here has a setting. Parts say what can be set on them; openings have them by their typicals.
      </EmptySheet>
    )
  return (
    <section aria-label="On the bench">
      <SheetHeading level={2} title="On the bench" facts="devices of one part that are set alike" />
      <table className="plain-table">
        <thead>
          <tr>
            <th scope="col">Part</th>
            <th scope="col">Set to</th>
            <th scope="col" className="end">
              Devices
            </th>
            <th scope="col" className="end">
              Not set
            </th>
            <th scope="col" className="end">
              Otherwise
            </th>
            <th scope="col">
              <span className="for-ears">Deeds</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {batches.map((batch) => {
            const unfolded = open === batch.key
            const toSet = batch.counts['not set'] + batch.counts['partly set']
            return [
              <tr
                key={batch.key}
                className={batch.choices.some(({ choose }) => choose === null) ? 'question' : ''}
              >
                <td className="part wrap">{batch.partName}</td>
                <td className="wrap">{choiceText(batch)}</td>
                <td className="end">{batch.fittingCount}</td>
                <td className="end">{toSet === 0 ? '' : toSet}</td>
                <td className="end">{batch.counts.differs === 0 ? '' : batch.counts.differs}</td>
                <td className="deeds">
                  <Button
                    kind="quiet"
                    label={`${unfolded ? 'Fold' : 'Show'} the devices of ${batch.partName}`}
                    onPress={() => setOpen(unfolded ? null : batch.key)}
                  >
                    {unfolded ? 'Fold' : 'Devices'}
                  </Button>
                </td>
              </tr>,
              unfolded && (
                <tr key={`${batch.key} devices`}>
                  <td colSpan={6}>
                    <Devices batchKey={batch.key} levelId={levelId} locked={locked} />
                  </td>
                </tr>
              ),
            ]
          })}
        </tbody>
      </table>
    </section>
  )
}

const choiceText = ({ choices }: BatchInShort): string =>
  choices.map(({ name, choose }) => `${name}: ${choose ?? 'not known'}`).join('; ')

const stateWords: Readonly<Record<BenchFitting['state'], string>> = {
  'not set': 'not set',
  'partly set': 'partly set',
  'as designed': 'set as designed',
  differs: 'set otherwise',
}

const openFirst = (fittings: readonly BenchFitting[]): readonly BenchFitting[] =>
  fittings.toSorted((one, other) => Number(isSet(one)) - Number(isSet(other)))
const isSet = ({ state }: BenchFitting): boolean => state === 'as designed'

/** The devices of one batch: tick those that were set, and note them together. */
function Devices({
  batchKey,
  levelId,
  locked,
}: {
  readonly batchKey: string
  readonly levelId: string | null
  readonly locked: boolean
}) {
  const answer = useAsked('settings.batch', { levelId, key: batchKey })
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set())
  const batch = answer?.batch
  if (batch == null) return null
  const keyOf = ({ openingId, tag }: BenchFitting): string => `${openingId} ${tag}`
  const open = batch.fittings.filter(({ state }) => state === 'not set' || state === 'partly set')
  const wanted = chosen.size === 0 ? open : batch.fittings.filter((each) => chosen.has(keyOf(each)))
  const values = batch.choices.flatMap(({ settingId, choose }) =>
    choose === null ? [] : [{ settingId, value: choose }],
  )
  const toggle = (key: string): void => {
    const next = new Set(chosen)
    if (!next.delete(key)) next.add(key)
    setChosen(next)
  }
  return (
    <div className="bench-devices">
      {!locked && values.length > 0 && wanted.length > 0 && (
        <Button
          kind="main"
          onPress={() =>
            void makeChange({
              does: 'set settings',
              stage: 'set',
              sets: [{ values, targets: wanted.map(({ target }) => target) }],
              visitId: null,
            }).then(() => setChosen(new Set()))
          }
        >
          {chosen.size === 0
            ? `Note the ${wanted.length} not set yet as set`
            : `Note ${counted(wanted.length, 'ticked device')} as set`}
        </Button>
      )}
      <ul>
        {openFirst(batch.fittings).map((each) => {
          const key = keyOf(each)
          return (
            <li key={key}>
              <label>
                <input
                  type="checkbox"
                  disabled={locked}
                  checked={chosen.has(key)}
                  onChange={() => toggle(key)}
                />{' '}
                <strong>{each.mark}</strong> {each.tag}
              </label>
              <span className={each.state === 'differs' ? 'question' : 'soft'}>
                {' '}
                {each.otherwise ?? stateWords[each.state]}
              </span>
            </li>
          )
        })}
      </ul>
    </div>
  )
}

export function SettingsMargin() {
  const pointed = usePointed((state) => state.pointed)
  return (
    <>
      {pointed !== null && <PointedSetting />}
      <MarginTitle>Three words for one jumper</MarginTitle>
      <MarginText>
        As designed is what the doorway was worked out with. As set is what somebody chose on the bench, with
        their name and the day. As found is what a visit read under the cover. Where they do not agree, that
        is a finding until somebody settles it.
      </MarginText>
      <MarginText>
        The factory position is never taken for a design: a device nobody spoke about is a question.
      </MarginText>
      <Citation>Set and check a device before it is mounted; its own instructions decide.</Citation>
    </>
  )
}

/** What can be chosen on the setting under the cursor, and what stands there. */
export function PointedSetting() {
  const pointed = usePointed((state) => state.pointed)
  if (pointed === null) return null
  const { tag, state } = pointed
  const { setting, differences, history } = state
  return (
    <>
      <MarginTitle>
        {setting.name} of {tag}
      </MarginTitle>
      {setting.notes !== null && <MarginText>{setting.notes}</MarginText>}
      <MarginFacts
        facts={setting.positions.map(({ name, meaning, factory }) => ({
          name: factory ? `${name}, factory` : name,
          value: meaning ?? '',
        }))}
      />
      {differences.map(({ words }) => (
        <MarginText key={words}>{words}</MarginText>
      ))}
      {history.length > 0 && (
        <MarginFacts
          facts={history.map(({ stage, value, at, who }) => ({
            name: `${stage} ${at?.slice(0, 10) ?? ''}`,
            value: [value, who].filter((each) => each !== null).join(', '),
          }))}
        />
      )}
    </>
  )
}
