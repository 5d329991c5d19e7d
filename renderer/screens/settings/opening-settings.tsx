import { useState } from 'react'
import type { OpeningSettings as Settings } from '../../../core/contract/index.ts'
import type { Stage } from '../../../core/job/index.ts'
import type {
  FittingSettings,
  SettingState,
  SettingTarget,
  StageValue,
} from '../../../core/settings/index.ts'
import { ask } from '../../bridge.ts'
import { Button, Choice, SheetHeading } from '../../ui/index.ts'
import { keep } from '../keep.ts'
import { useAsked } from '../use-asked.ts'
import { makeChange, working } from '../window-state.ts'
import { pointAt } from './setting-state.ts'
import { SettingField } from './setting-field.tsx'

const stageNames: Readonly<Record<Stage, string>> = {
  designed: 'as designed',
  set: 'as set',
  found: 'as found',
}

/** What a fitting without a record of its own is named by. */
export function targetOf(of: FittingSettings): SettingTarget {
  if (of.openingId === null) return { typicalFittingId: of.typicalFittingId ?? '' }
  return of.fittingId === null
    ? { openingId: of.openingId, followsTypicalFittingId: of.typicalFittingId ?? '' }
    : { openingId: of.openingId, fittingId: of.fittingId }
}

/** Every setting of an opening: designed, set and found, each changed where it stands. */
export function OpeningSettings({
  openingId,
  locked,
}: {
  readonly openingId: string
  readonly locked: boolean
}) {
  const settings = useAsked('settings.opening', { openingId })
  const [stage, setStage] = useState<Stage>('designed')
  if (settings === null) return null
  const fittings = settings.fittings.filter((each) => each.settings.length > 0)
  if (fittings.length === 0) return null
  return (
    <section aria-label="Settings" className="opening-settings">
      <SheetHeading
        level={2}
        title="Settings"
        facts="designed, set on the bench, found on a visit"
        actions={
          <>
            <Choice
              label="Noting"
              options={(['designed', 'set', 'found'] as const).map((key) => ({
                key,
                label: stageNames[key],
              }))}
              value={stage}
              onChange={(key) => setStage(key as Stage)}
            />
            <Button onPress={() => void printSheet(openingId)}>Setting sheet</Button>
          </>
        }
      />
      <Differences settings={settings} />
      <table className="plain-table">
        <thead>
          <tr>
            <th scope="col">Device</th>
            <th scope="col">Setting</th>
            <th scope="col">Designed</th>
            <th scope="col">Set</th>
            <th scope="col">Found</th>
          </tr>
        </thead>
        <tbody>
          {fittings.flatMap((fitting) => [
            ...fitting.settings.map((state, index) => (
              <SettingRow
                key={`${fitting.tag} ${state.setting.id}`}
                fitting={fitting}
                state={state}
                first={index === 0}
                stage={stage}
                locked={locked}
              />
            )),
            ...fitting.banks.map(({ bank, readings, differs }) => (
              <tr key={`${fitting.tag} ${bank.id}`} className={differs === null ? 'soft' : 'question'}>
                <td className="mark">
                  <span className="for-ears">{fitting.tag}</span>
                </td>
                <td>{bank.name} together</td>
                <td>{bankText(readings.designed)}</td>
                <td>{bankText(readings.set)}</td>
                <td>{bankText(readings.found)}</td>
              </tr>
            )),
          ])}
        </tbody>
      </table>
      {stage === 'designed' && !locked && <FollowFactory fittings={fittings} />}
      {stage !== 'designed' && !locked && (
        <p className="soft padded">
          Noting {stageNames[stage]} writes your name and the time beside each value.
          {stage === 'set' && <SetAllAsDesigned fittings={fittings} />}
        </p>
      )}
    </section>
  )
}

const bankText = (reading: FittingSettings['banks'][number]['readings']['designed']): string =>
  reading.state === 'chosen' ? reading.meaning : reading.state === 'not known' ? '' : reading.words

function Differences({ settings }: { readonly settings: Settings }) {
  const { findings, consequences } = settings
  if (findings.length === 0 && consequences.length === 0) return null
  return (
    <ul className="setting-findings">
      {findings.map((each) => (
        <li key={each.words}>
          {each.words} {each.consequences.join(' ')} To be settled by {each.whoCanSettle}.
        </li>
      ))}
      {consequences.map((each) => (
        <li key={each} className="consequence">
          {each}
        </li>
      ))}
    </ul>
  )
}

function SettingRow({
  fitting,
  state,
  first,
  stage,
  locked,
}: {
  readonly fitting: FittingSettings
  readonly state: SettingState
  readonly first: boolean
  readonly stage: Stage
  readonly locked: boolean
}) {
  const { setting, designed, differences } = state
  const value = (of: Stage, stands: StageValue) => (
    <td className={of === 'designed' && designed.known && designed.from === 'own' ? 'own' : ''}>
      {of === stage && !locked ? (
        <SettingField
          label={`${setting.name} of ${fitting.tag}, ${stageNames[of]}`}
          setting={setting}
          value={stands.known ? stands.value : null}
          onSet={(next) =>
            makeChange({
              does: 'set settings',
              stage: of,
              sets: [{ values: [{ settingId: setting.id, value: next }], targets: [targetOf(fitting)] }],
              visitId: null,
            })
          }
        />
      ) : stands.known ? (
        <>
          {stands.value}
          {of !== 'designed' && <span className="soft"> {notedWords(stands)}</span>}
        </>
      ) : (
        <span className="soft">{of === 'designed' ? 'not known' : 'not noted'}</span>
      )}
    </td>
  )
  return (
    <tr
      className={differences.length > 0 || !designed.known ? 'question' : ''}
      onMouseEnter={() => pointAt({ tag: fitting.tag, state })}
      onFocus={() => pointAt({ tag: fitting.tag, state })}
    >
      <td className="mark">{first ? fitting.tag : ''}</td>
      <td>
        {setting.name}
        {first && fitting.partName !== null && <span className="soft"> {fitting.partName}</span>}
      </td>
      {value('designed', state.designed)}
      {value('set', state.set)}
      {value('found', state.found)}
    </tr>
  )
}

const notedWords = ({ at, who }: { readonly at: string | null; readonly who: string | null }): string =>
  [at?.slice(0, 10), who].filter((each) => each != null).join(' ')

/** Designs every setting that nobody designed yet at its factory position. */
function FollowFactory({ fittings }: { readonly fittings: readonly FittingSettings[] }) {
  const sets = setsOf(fittings, ({ designed, setting }) => (designed.known ? null : setting.factory))
  if (sets.length === 0) return null
  const count = sets.reduce((sum, { values }) => sum + values.length, 0)
  return (
    <p className="padded">
      <Button
        onPress={() => void makeChange({ does: 'set settings', stage: 'designed', sets, visitId: null })}
      >
        {count === 1
          ? 'Design the one not known as from the factory'
          : `Design the ${count} not known as from the factory`}
      </Button>
    </p>
  )
}

/** Notes as set every setting that was designed and not yet set. */
function SetAllAsDesigned({ fittings }: { readonly fittings: readonly FittingSettings[] }) {
  const sets = setsOf(fittings, ({ designed, set }) => (designed.known && !set.known ? designed.value : null))
  if (sets.length === 0) return null
  return (
    <Button onPress={() => void makeChange({ does: 'set settings', stage: 'set', sets, visitId: null })}>
      All of this opening set as designed
    </Button>
  )
}

/** The values to give, fitting by fitting; null gives none. */
const setsOf = (fittings: readonly FittingSettings[], valueOf: (state: SettingState) => string | null) =>
  fittings.flatMap((fitting) => {
    const values = fitting.settings.flatMap((state) => {
      const value = valueOf(state)
      return value === null ? [] : [{ settingId: state.setting.id as string, value }]
    })
    return values.length === 0 ? [] : [{ values, targets: [targetOf(fitting)] }]
  })

export async function printSheet(openingId: string): Promise<void> {
  const made = await working('Setting the sheet', () => ask('print.settings', { openingIds: [openingId] }))
  if (made !== null) keep(made)
}
