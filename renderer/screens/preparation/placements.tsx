import { useState } from 'react'
import { fittingPlaces, readLength, writeLength, type Units } from '../../../core/job/index.ts'
import {
  changesSomething,
  isPlace,
  placeCommand,
  type FittingPlacement,
  type PlacementField,
  type SaidBy,
  type StandingFact,
} from '../../../core/preparation/index.ts'
import { Choice } from '../../ui/index.ts'
import { TextCell } from '../text-cell.tsx'
import { makeChange, tell } from '../window-state.ts'
import { showFitting, usePreparation } from './preparation-state.ts'

type At = 'opening' | 'typical'

/** Where each fitting stands and who says so, changed for this opening or for every opening of its typical. */
export function Placements({
  placements,
  keepsPattern,
  units,
  locked,
}: {
  readonly placements: readonly FittingPlacement[]
  /** Keys of fittings whose pattern may place them. */
  readonly keepsPattern: ReadonlySet<string>
  readonly units: Units
  readonly locked: boolean
}) {
  const [at, setAt] = useState<At>('opening')
  const shown = usePreparation((state) => state.shown)
  if (placements.length === 0) return null
  const typicalName = placements.find((each) => each.typicalName !== null)?.typicalName ?? null
  return (
    <div className="placements">
      {typicalName !== null && !locked && (
        <div className="placements-for">
          <Choice
            label="Changing places"
            options={[
              { key: 'opening', label: `for ${placements[0]?.mark ?? 'this opening'} alone` },
              { key: 'typical', label: `for all of “${typicalName}”` },
            ]}
            value={at}
            onChange={(key) => setAt(key as At)}
          />
        </div>
      )}
      <table className="plain-table">
        <thead>
          <tr>
            <th scope="col">Fitting</th>
            <th scope="col">Part</th>
            <th scope="col">Place</th>
            <th scope="col">Side</th>
            <th scope="col">Height of its middle</th>
            <th scope="col">From strike edge</th>
          </tr>
        </thead>
        <tbody>
          {placements.map((each) => (
            <tr key={each.key} className={each.place.value === null ? 'question' : ''}>
              <td className="mark">
                <button
                  type="button"
                  className="show-fitting"
                  aria-pressed={shown === each.tag}
                  aria-label={`Show ${each.tag} on the elevation`}
                  onClick={() => showFitting(each.tag)}
                >
                  {each.tag}
                </button>
              </td>
              <td className="part">{each.partName ?? 'part not known'}</td>
              <Chosen
                fitting={each}
                at={at}
                field="place"
                fact={each.place}
                choices={fittingPlaces}
                locked={locked}
              />
              <Chosen
                fitting={each}
                at={at}
                field="side"
                fact={each.side}
                choices={['keyed', 'egress']}
                locked={locked || each.side.by === 'patterns'}
              />
              <Length
                fitting={each}
                at={at}
                field="heightMicrometres"
                fact={each.heightMicrometres}
                hint="—"
                units={units}
                locked={locked}
              />
              <Length
                fitting={each}
                at={at}
                field="acrossMicrometres"
                fact={each.acrossMicrometres}
                hint={keepsPattern.has(each.key) ? 'as its pattern' : '—'}
                units={units}
                locked={locked}
              />
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

const sayers: Readonly<Record<SaidBy, string>> = {
  opening: 'here',
  typical: 'typical',
  part: 'part',
  patterns: 'as its pattern needs',
}
const By = ({ fact }: { readonly fact: StandingFact<unknown> }) =>
  fact.by === null ? null : <span className={fact.by === 'opening' ? 'own' : 'soft'}>{sayers[fact.by]}</span>

const fieldNames: Readonly<Record<PlacementField, string>> = {
  place: 'Place',
  side: 'Side',
  heightMicrometres: 'Height of the middle',
  acrossMicrometres: 'Distance from the strike edge',
}

async function say(
  fitting: FittingPlacement,
  at: At,
  field: PlacementField,
  value: string | number | null,
): Promise<void> {
  if (at === 'typical' && fitting.typicalFittingId === null)
    return tell({
      weight: 'stop',
      words: `${fitting.tag} is of no typical; it was added on ${fitting.mark}.`,
    })
  const command = placeCommand(fitting, at, field, value as never)
  if (changesSomething(command)) await makeChange(command as Parameters<typeof makeChange>[0])
}

interface CellProps<Value> {
  readonly fitting: FittingPlacement
  readonly at: At
  readonly field: PlacementField
  readonly fact: StandingFact<Value>
  readonly locked: boolean
}

function Chosen({
  choices,
  fitting,
  at,
  field,
  fact,
  locked,
}: CellProps<string> & { readonly choices: readonly string[] }) {
  const text = fact.value
  if (locked)
    return (
      <td>
        {text ?? <span className="soft">not known</span>} <By fact={fact} />
      </td>
    )
  return (
    <td>
      <span className="placement-cell">
        <select
          className="cell-input"
          aria-label={`${fieldNames[field]} of ${fitting.tag}`}
          value={text ?? ''}
          onChange={(event) => {
            const chosen = event.currentTarget.value
            const value = field === 'place' ? (isPlace(chosen) ? chosen : null) : chosen
            void say(fitting, at, field, value === '' ? null : value)
          }}
        >
          <option value="">{fact.by === null ? 'not known' : 'as said elsewhere'}</option>
          {choices.map((each) => (
            <option key={each} value={each}>
              {each}
            </option>
          ))}
        </select>
        <By fact={fact} />
      </span>
    </td>
  )
}

function Length({
  units,
  hint,
  fitting,
  at,
  field,
  fact,
  locked,
}: CellProps<number> & { readonly units: Units; readonly hint: string }) {
  const set = async (text: string | null): Promise<void> => {
    const read = text === null ? null : readLength(text, { units })
    if (read !== null && !read.known)
      return tell({
        weight: 'stop',
        words: `${fieldNames[field]} of ${fitting.tag} on ${fitting.mark}: “${text ?? ''}” is no length; expected one such as ${units === 'metric' ? '1070' : '42"'}.`,
      })
    await say(fitting, at, field, read === null ? null : read.value)
  }
  return (
    <td>
      <span className="placement-cell">
        <TextCell
          text={fact.value === null ? null : writeLength(fact.value, units, { style: 'inches' })}
          label={`${fieldNames[field]} of ${fitting.tag}`}
          hint={hint}
          locked={locked}
          onSet={set}
        />
        <By fact={fact} />
      </span>
    </td>
  )
}
