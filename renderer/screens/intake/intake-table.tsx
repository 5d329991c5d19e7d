import { useMemo } from 'react'
import type { IntakeDecisions, IntakePreview } from '../../../core/contract/index.ts'
import {
  decisionFor,
  fieldDecisionFor,
  type ComparedField,
  type ComparedItem,
  type Decision,
  type UnderstoodFields,
} from '../../../core/exchange/index.ts'
import { writeFireLabel, writeLength, writeSize, type Units } from '../../../core/job/index.ts'
import { Checkbox } from '../../ui/index.ts'
import { useWindow } from '../window-state.ts'

export type IntakeShow = 'added' | 'changed' | 'gone' | 'same' | 'doubts' | 'problems' | 'aside'

/** More rows than a person reads in one go are counted, not drawn; all of them are taken in. */
const mostDrawn = 600

interface Deciding {
  readonly intake: IntakePreview
  /** Remarks said above for all rows. */
  readonly shared: readonly string[]
  readonly decisions: IntakeDecisions
  readonly onDecide: (decisions: IntakeDecisions) => void
}

export function IntakeTable({ show, ...deciding }: Deciding & { readonly show: IntakeShow }) {
  if (show === 'problems') return <Problems intake={deciding.intake} />
  if (show === 'aside') return <Aside intake={deciding.intake} />
  return show === 'changed' ? <Changed {...deciding} /> : <Items show={show} {...deciding} />
}

function withItems(
  decisions: IntakeDecisions,
  items: readonly ComparedItem[],
  decision: Decision,
): IntakeDecisions {
  return {
    ...decisions,
    items: { ...decisions.items, ...Object.fromEntries(items.map((item) => [item.key, decision])) },
  }
}

function withField(
  decisions: IntakeDecisions,
  item: ComparedItem,
  field: ComparedField,
  decision: Decision,
): IntakeDecisions {
  return {
    ...decisions,
    fields: { ...decisions.fields, [item.key]: { ...decisions.fields[item.key], [field]: decision } },
  }
}

function AllBox({
  items,
  decisions,
  onDecide,
  label,
}: Omit<Deciding, 'intake' | 'shared'> & { items: readonly ComparedItem[]; label: string }) {
  const accepted = items.filter((item) => decisionFor(item, decisions) === 'accept').length
  return (
    <Checkbox
      checked={accepted === items.length && items.length > 0}
      mixed={accepted > 0 && accepted < items.length}
      onChange={(checked) => onDecide(withItems(decisions, items, checked ? 'accept' : 'leave'))}
    >
      {label}
    </Checkbox>
  )
}

const acceptWords: Readonly<Record<'added' | 'gone' | 'same' | 'doubts', string>> = {
  added: 'Add all',
  gone: 'Remove all',
  same: 'All',
  doubts: 'Accept all',
}

function Items({
  show,
  intake,
  shared,
  decisions,
  onDecide,
}: Deciding & { readonly show: 'added' | 'gone' | 'same' | 'doubts' }) {
  const units = useWindow((state) => state.job?.frame.job.units ?? 'imperial')
  const items = useMemo(
    () =>
      intake.comparison.items.filter((item) =>
        show === 'doubts' ? item.doubt !== null : item.kind === show,
      ),
    [intake, show],
  )
  if (items.length === 0) return <p className="soft padded">None.</p>
  return (
    <>
      <table className="plain-table intake-table">
        <thead>
          <tr>
            <th scope="col">
              {show === 'same' ? (
                <span className="for-ears">Decision</span>
              ) : (
                <AllBox items={items} decisions={decisions} onDecide={onDecide} label={acceptWords[show]} />
              )}
            </th>
            <th scope="col">Mark</th>
            <th scope="col">Level</th>
            <th scope="col">Where</th>
            <th scope="col">Size</th>
            <th scope="col">Hand</th>
            <th scope="col">Door</th>
            <th scope="col">Frame</th>
            <th scope="col">Label</th>
            <th scope="col">Set</th>
            <th scope="col">Row</th>
            <th scope="col">Remarks</th>
          </tr>
        </thead>
        <tbody>
          {items.slice(0, mostDrawn).map((item) => {
            const understood = item.index === null ? undefined : intake.understanding.openings[item.index]
            const fields = understood?.fields
            return (
              <tr key={item.key} className={item.doubt === null ? '' : 'question'}>
                <td>
                  {show !== 'same' && (
                    <Checkbox
                      checked={decisionFor(item, decisions) === 'accept'}
                      onChange={(checked) =>
                        onDecide(withItems(decisions, [item], checked ? 'accept' : 'leave'))
                      }
                    >
                      <span className="for-ears">{item.mark}</span>
                    </Checkbox>
                  )}
                </td>
                <td className="mark">{item.mark}</td>
                <td>{item.level ?? ''}</td>
                <td className="wrap">{fields === undefined ? '' : whereWords(fields)}</td>
                <td>{fields === undefined ? '' : sizeWords(fields, units)}</td>
                <td>{fields?.hand ?? ''}</td>
                <td>{fields?.doorMaterial ?? ''}</td>
                <td>{fields?.frameMaterial ?? ''}</td>
                <td>
                  {fields?.fireLabelMinutes === undefined
                    ? ''
                    : writeFireLabel({
                        minutes: fields.fireLabelMinutes,
                        class: fields.fireLabelClass ?? null,
                      })}
                </td>
                <td>{fields?.hardwareSet ?? ''}</td>
                <td className="soft">{item.place ?? ''}</td>
                <td className="wrap">
                  {[
                    ...(item.doubt === null ? [] : [item.doubt]),
                    ...item.remarks.filter((each) => !shared.includes(each)),
                  ].join(' ')}
                </td>
              </tr>
            )
          })}
        </tbody>
      </table>
      <More count={items.length} />
    </>
  )
}

const More = ({ count }: { readonly count: number }) =>
  count > mostDrawn ? (
    <p className="soft padded">
      And {count - mostDrawn} more like these, which are not drawn here and are decided together with the box
      at the top.
    </p>
  ) : null

const roomWords = (room: UnderstoodFields['toRoom']): string =>
  room === null || room === undefined ? '' : room.name === null ? room.number : `${room.number} ${room.name}`

function whereWords(fields: UnderstoodFields): string {
  if (fields.whereText !== null && fields.whereText !== undefined) return fields.whereText
  const [to, from] = [roomWords(fields.toRoom), roomWords(fields.fromRoom)]
  if (to === '') return from === '' ? '' : `from ${from}`
  return from === '' ? to : `${to}, from ${from}`
}

function sizeWords(fields: UnderstoodFields, units: Units): string {
  const { widthMicrometres = null, heightMicrometres = null, leaves } = fields
  if (widthMicrometres === null && heightMicrometres === null) return ''
  if (widthMicrometres === null || heightMicrometres === null)
    return writeLength(widthMicrometres ?? heightMicrometres ?? 0, units)
  return writeSize({ leaves: leaves === 2 ? 2 : 1, widthMicrometres, heightMicrometres }, units)
}

/** Every field that would change, each with its own decision. */
function Changed({ intake, shared, decisions, onDecide }: Deciding) {
  const items = useMemo(() => intake.comparison.items.filter((item) => item.kind === 'changed'), [intake])
  if (items.length === 0) return <p className="soft padded">None.</p>
  return (
    <>
      <table className="plain-table intake-table">
        <thead>
          <tr>
            <th scope="col">
              <AllBox items={items} decisions={decisions} onDecide={onDecide} label="Change all" />
            </th>
            <th scope="col">Mark</th>
            <th scope="col">Field</th>
            <th scope="col">Was</th>
            <th scope="col">Becomes</th>
            <th scope="col">Remarks</th>
          </tr>
        </thead>
        {items.slice(0, mostDrawn).map((item) => {
          const accepted = decisionFor(item, decisions) === 'accept'
          return (
            <tbody key={item.key}>
              {item.changes.map((change, index) => (
                <tr key={change.field} className={change.editedSince ? 'question' : ''}>
                  <td>
                    {index === 0 && (
                      <Checkbox
                        checked={accepted}
                        onChange={(checked) =>
                          onDecide(withItems(decisions, [item], checked ? 'accept' : 'leave'))
                        }
                      >
                        <span className="for-ears">{item.mark}</span>
                      </Checkbox>
                    )}
                  </td>
                  <td className="mark">{index === 0 ? item.mark : ''}</td>
                  <td>
                    <Checkbox
                      checked={accepted && fieldDecisionFor(item, change.field, decisions) === 'accept'}
                      disabled={!accepted}
                      onChange={(checked) =>
                        onDecide(withField(decisions, item, change.field, checked ? 'accept' : 'leave'))
                      }
                    >
                      {change.label}
                    </Checkbox>
                  </td>
                  <td className="soft">{change.was === '' ? 'nothing' : change.was}</td>
                  <td>{change.becomes === '' ? 'nothing' : change.becomes}</td>
                  <td className="wrap">
                    {[
                      ...(change.editedSince ? ['Somebody changed this here since it was taken in.'] : []),
                      ...(index === 0 && item.doubt !== null ? [item.doubt] : []),
                      ...(index === 0 ? item.remarks.filter((each) => !shared.includes(each)) : []),
                    ].join(' ')}
                  </td>
                </tr>
              ))}
            </tbody>
          )
        })}
      </table>
      <More count={items.length} />
    </>
  )
}

function Problems({ intake }: { readonly intake: IntakePreview }) {
  const { problems } = intake.understanding
  // The same cell text in the same column means the same: said once, with how often it stands there.
  const alike = [
    ...Map.groupBy(problems, ({ weight, field, found }) => JSON.stringify([weight, field, found])).values(),
  ]
  return (
    <table className="plain-table intake-table">
      <thead>
        <tr>
          <th scope="col">Row</th>
          <th scope="col">Field</th>
          <th scope="col">Found</th>
          <th scope="col">What it means</th>
        </tr>
      </thead>
      <tbody>
        {alike.slice(0, mostDrawn).map(([problem, ...others], index) =>
          problem === undefined ? null : (
            <tr key={index} className={problem.weight === 'refused' ? 'question' : ''}>
              <td>
                {problem.place}
                {others.length > 0 && (
                  <span className="soft">
                    {' '}
                    and {others.length} more {others.length === 1 ? 'row' : 'rows'} with the same
                  </span>
                )}
              </td>
              <td>{problem.field}</td>
              <td>{problem.found}</td>
              <td className="wrap">
                {problem.sentence} {problem.weight === 'refused' ? 'It stays not known.' : ''}
              </td>
            </tr>
          ),
        )}
      </tbody>
    </table>
  )
}

function Aside({ intake }: { readonly intake: IntakePreview }) {
  const { setAside } = intake.understanding
  return (
    <table className="plain-table intake-table">
      <thead>
        <tr>
          <th scope="col">Row</th>
          <th scope="col">Set aside as</th>
          <th scope="col">What it says</th>
        </tr>
      </thead>
      <tbody>
        {setAside.slice(0, mostDrawn).map((aside, index) => (
          <tr key={index}>
            <td>{aside.place}</td>
            <td>{aside.why}</td>
            <td className="wrap">{aside.text}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
