import { useState } from 'react'
import type { ControllerInShort, PointPage } from '../../../core/runs/index.ts'
import { toldApartWords } from '../../../core/documents/index.ts'
import { ask } from '../../bridge.ts'
import { Button, EmptySheet, SheetHeading } from '../../ui/index.ts'
import { AmountCell, Headings, RemoveCell, SelectCell, YesNoCell } from '../parts/index.ts'
import { hrefOf } from '../place.ts'
import { TextCell } from '../text-cell.tsx'
import { useAsked } from '../use-asked.ts'
import { tell } from '../window-state.ts'
import { carryOut, changeRecords } from './changes.ts'
import { Findings } from './findings-view.tsx'
import { pointAt, setRuns, useRuns } from './runs-state.ts'

/** Controllers, and the points of the one that is chosen. */
export function PointsView({ locked }: { readonly locked: boolean }) {
  const answer = useAsked('runs.controllers', {})
  const chosen = useRuns((state) => state.controllerId)
  if (answer === null) return null
  const { controllers, findings } = answer
  const controller = controllers.find(({ id }) => id === chosen) ?? controllers[0]
  return (
    <div className="points-view">
      <Findings findings={findings} />
      <Controllers controllers={controllers} chosen={controller?.id ?? null} locked={locked} />
      {controller !== undefined && <Points key={controller.id} controller={controller} locked={locked} />}
    </div>
  )
}

function Controllers({
  controllers,
  chosen,
  locked,
}: {
  readonly controllers: readonly ControllerInShort[]
  readonly chosen: string | null
  readonly locked: boolean
}) {
  return (
    <section aria-label="Controllers">
      <SheetHeading
        level={2}
        title="Controllers"
        actions={
          !locked && (
            <Button kind="quiet" onPress={() => void addController(controllers)}>
              Add a controller
            </Button>
          )
        }
      />
      {controllers.length === 0 ? (
        <EmptySheet>
          No controller yet. Add one, then its points: each input with its loop, each output with its relay.
        </EmptySheet>
      ) : (
        <table className="plain-table controllers">
          <thead>
            <tr>
              <th scope="col">Controller</th>
              <th scope="col">Where</th>
              <th scope="col" className="end">
                Inputs
              </th>
              <th scope="col" className="end">
                Outputs
              </th>
              <th scope="col" className="end">
                Wired to nothing
              </th>
              <th scope="col">
                <span className="for-ears">Deeds</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {controllers.map((each) => (
              <tr
                key={each.id}
                className={`${each.id === chosen ? 'chosen' : ''} ${each.wiredToNothing > 0 ? 'question' : ''}`}
              >
                <td className="mark">
                  <TextCell
                    text={each.mark}
                    label={`Mark of ${each.mark}`}
                    locked={locked}
                    onSet={(mark) =>
                      mark === null
                        ? tell({ weight: 'stop', words: 'A controller needs a mark. Nothing was changed.' })
                        : setController(each, 'mark', { mark })
                    }
                  />
                </td>
                <td>
                  <TextCell
                    text={each.where}
                    label={`Where ${each.mark} is`}
                    locked={locked}
                    onSet={(whereText) => setController(each, 'place', { whereText })}
                  />
                </td>
                <td className="end">{each.inputs}</td>
                <td className="end">{each.outputs}</td>
                <td className="end">{each.wiredToNothing === 0 ? '' : each.wiredToNothing}</td>
                <td className="deeds">
                  <Button
                    kind="quiet"
                    label={`${each.id === chosen ? 'Shown below' : 'Points'}: ${each.mark}`}
                    onPress={() => setRuns({ controllerId: each.id })}
                  >
                    {each.id === chosen ? 'Shown below' : 'Points'}
                  </Button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  )
}

const setController = (
  { id, mark }: ControllerInShort,
  what: string,
  fields: Record<string, string | null>,
): Promise<boolean> => changeRecords(`Set ${what} of ${mark}`, { set: [{ kind: 'controller', id, fields }] })

function addController(controllers: readonly ControllerInShort[]): Promise<boolean> {
  const taken = new Set(controllers.map(({ mark }) => mark.toLowerCase()))
  let number = controllers.length + 1
  while (taken.has(`ac${number}`)) number += 1
  return changeRecords(`Add controller AC${number}`, {
    add: [
      {
        kind: 'controller',
        record: {
          id: 'new:1',
          mark: `AC${number}`,
          position: number,
          partId: null,
          spaceId: null,
          whereText: null,
          notes: null,
        },
      },
    ],
  })
}

function Points({
  controller,
  locked,
}: {
  readonly controller: ControllerInShort
  readonly locked: boolean
}) {
  const answer = useAsked('runs.points', { controllerId: controller.id })
  const [open, setOpen] = useState<string | null>(null)
  if (answer === null) return null
  const { points } = answer
  const inputs = points.filter(({ direction }) => direction === 'input')
  const outputs = points.filter(({ direction }) => direction === 'output')
  const add = (direction: 'input' | 'output'): void => void addPoint(controller, points, direction)
  return (
    <>
      <section aria-label={`Inputs of ${controller.mark}`}>
        <SheetHeading
          level={2}
          title={`${controller.mark}: inputs`}
          facts="what the loop comes to at the controller’s terminals, cable counted"
          actions={
            !locked && (
              <Button kind="quiet" onPress={() => add('input')}>
                Add an input
              </Button>
            )
          }
        />
        <table className="plain-table points">
          <Headings
            names={['Point', 'Wired to', 'Contact', 'Loop', 'In line, ohm', 'Across, ohm', 'States', '', '']}
          />
          <tbody>
            {inputs.map((each) => [
              <InputLine
                key={each.id}
                point={each}
                locked={locked}
                open={open === each.id}
                onOpen={() => setOpen(open === each.id ? null : each.id)}
              />,
              open === each.id && (
                <tr key={`${each.id} more`}>
                  <td colSpan={9}>
                    <InputMore point={each} locked={locked} />
                  </td>
                </tr>
              ),
            ])}
            {inputs.length === 0 && (
              <tr>
                <td colSpan={9} className="soft">
                  No inputs yet.
                </td>
              </tr>
            )}
          </tbody>
        </table>
      </section>
      <section aria-label={`Outputs of ${controller.mark}`}>
        <SheetHeading
          level={2}
          title={`${controller.mark}: outputs`}
          facts="what is not said is taken to suit the lock; a relay said here is what the doorway does"
          actions={
            !locked && (
              <Button kind="quiet" onPress={() => add('output')}>
                Add an output
              </Button>
            )
          }
        />
        <table className="plain-table points">
          <Headings
            names={[
              'Point',
              'Wired to',
              'Relay contact',
              'Energised',
              'Released in open hours',
              'Unlocks for, s',
              '',
            ]}
          />
          <tbody>
            {outputs.map((each) => (
              <OutputLine key={each.id} point={each} locked={locked} />
            ))}
            {outputs.length === 0 && (
              <tr>
                <td colSpan={7} className="soft">
                  No outputs yet.
                </td>
              </tr>
            )}
          </tbody>
        </table>
      </section>
    </>
  )
}

function addPoint(
  controller: ControllerInShort,
  points: readonly PointPage[],
  direction: 'input' | 'output',
): Promise<boolean> {
  const number = points.filter((each) => each.direction === direction).length + 1
  const name = `${direction === 'input' ? 'Input' : 'Output'} ${number}`
  return changeRecords(`Add ${name.toLowerCase()} to ${controller.mark}`, {
    add: [
      {
        kind: 'point',
        record: {
          id: 'new:1',
          controllerId: controller.id,
          position: points.length,
          name,
          direction,
          fittingId: null,
          partContactId: null,
          loop: null,
          seriesOhms: null,
          parallelOhms: null,
          notes: null,
        },
      },
    ],
  })
}

type Fields = Record<string, string | number | boolean | null>

const nameOf = ({ controllerMark, name }: PointPage): string => `${controllerMark} ${name}`

const setPoint = (point: PointPage, what: string, fields: Fields): Promise<boolean> =>
  changeRecords(`Set ${what} of ${nameOf(point)}`, { set: [{ kind: 'point', id: point.id, fields }] })

/** Sets a field of the record beside a point, which is made when there is none yet. */
function setTerms(point: PointPage, what: string, fields: Fields): Promise<boolean> {
  const name = `Set ${what} of ${nameOf(point)}`
  if (point.terms !== null)
    return changeRecords(name, { set: [{ kind: 'pointTerms', id: point.terms.id, fields }] })
  const record = {
    id: 'new:1',
    pointId: point.id,
    normally: null,
    wiredTo: null,
    tolerancePercent: null,
    closedBelowOhms: null,
    resistorTolerancePercent: null,
    ...fields,
  }
  return changeRecords(name, { add: [{ kind: 'pointTerms', record }] })
}

function setRelay(point: PointPage, what: string, fields: Fields): Promise<boolean> {
  const name = `Set ${what} of ${nameOf(point)}`
  if (point.relay !== null)
    return changeRecords(name, { set: [{ kind: 'pointRelay', id: point.relay.id, fields }] })
  const record = {
    id: 'new:1',
    pointId: point.id,
    contact: null,
    energised: null,
    releasedInOpenHours: null,
    unlockSeconds: null,
    ...fields,
  }
  return changeRecords(name, { add: [{ kind: 'pointRelay', record }] })
}

function PointName({ point, locked }: { readonly point: PointPage; readonly locked: boolean }) {
  return (
    <TextCell
      text={point.name}
      label={`Name of ${nameOf(point)}`}
      locked={locked}
      onSet={(name) =>
        name === null
          ? tell({ weight: 'stop', words: 'A point needs a name. Nothing was changed.' })
          : setPoint(point, 'name', { name })
      }
    />
  )
}

function WiredTo({ point, locked }: { readonly point: PointPage; readonly locked: boolean }) {
  return (
    <span className="wired-to">
      <TextCell
        text={point.wiredToFitting}
        label={`What ${nameOf(point)} is wired to`}
        hint="118 C1"
        locked={locked}
        onSet={(text) =>
          carryOut(ask('runs.wirePoint', { pointId: point.id, text: text ?? '' }), 'It is wired so already.')
        }
      />
      {point.openingId !== null && (
        <a
          className="link"
          href={hrefOf({ sheet: 'opening', openingId: point.openingId })}
          aria-label={`Open the page of ${point.wiredToFitting}`}
        >
          page
        </a>
      )}
    </span>
  )
}

const removePoint = (point: PointPage): Promise<boolean> =>
  changeRecords(`Remove ${nameOf(point)}`, { remove: [{ kind: 'point', id: point.id }] })

interface Line {
  readonly point: PointPage
  readonly locked: boolean
}

function InputLine({
  point,
  locked,
  open,
  onOpen,
}: Line & { readonly open: boolean; readonly onOpen: () => void }) {
  const { loop } = point
  const isWrong = loop !== null && (loop.toldApart.answer === 'no' || loop.disagreements.length > 0)
  const isOpen = loop === null || loop.questions.length > 0
  const explain = (): void => pointAt({ form: 'point', point })
  return (
    <tr className={isWrong || isOpen ? 'question' : ''} onFocus={explain} onMouseEnter={explain}>
      <td className="mark">
        <PointName point={point} locked={locked} />
      </td>
      <td>
        <WiredTo point={point} locked={locked} />
      </td>
      <td>
        <SelectCell
          label={`Contact in the loop of ${nameOf(point)}`}
          value={point.contactId}
          options={point.contacts.map(({ id, name }) => ({ key: id, label: name }))}
          none="not known"
          locked={locked || point.contacts.length === 0}
          onSet={(partContactId) => setPoint(point, 'contact', { partContactId })}
        />
      </td>
      <td>
        <SelectCell
          label={`Loop of ${nameOf(point)}`}
          value={point.loopForm}
          options={['plain', 'one resistor', 'two resistors']}
          none="not known"
          locked={locked}
          onSet={(form) => setPoint(point, 'loop', { loop: form })}
        />
      </td>
      <td className="amount">
        <AmountCell
          label={`Resistor in line of ${nameOf(point)}`}
          value={point.seriesOhms}
          unit="ohm"
          hint="none"
          locked={locked}
          onSet={(seriesOhms) => setPoint(point, 'resistor in line', { seriesOhms })}
        />
      </td>
      <td className="amount">
        <AmountCell
          label={`Resistor across of ${nameOf(point)}`}
          value={point.parallelOhms}
          unit="ohm"
          hint="none"
          locked={locked}
          onSet={(parallelOhms) => setPoint(point, 'resistor across', { parallelOhms })}
        />
      </td>
      <td className={isWrong ? 'loop-trouble' : isOpen ? 'own' : 'soft'}>
        {loop === null ? 'wired to nothing' : statesWords(point)}
      </td>
      <td className="deeds">
        <Button
          kind="quiet"
          label={`${open ? 'Fold' : 'Show'} the loop of ${nameOf(point)}`}
          onPress={onOpen}
        >
          {open ? 'Fold' : 'Loop'}
        </Button>
      </td>
      <RemoveCell what={nameOf(point)} locked={locked} onRemove={() => removePoint(point)} />
    </tr>
  )
}

/** "told apart, 9 % to spare"; the first disagreement where there is one. */
const statesWords = (point: PointPage): string =>
  point.loop !== null && point.loop.disagreements.length > 0 ? 'disagrees' : toldApartWords(point)

/** The terms of an input, and its loop in every circumstance. */
function InputMore({ point, locked }: Line) {
  const { terms } = point
  return (
    <div className="input-more">
      <dl className="fact-grid">
        <div>
          <dt>Takes for normal</dt>
          <dd>
            <SelectCell
              label={`What ${nameOf(point)} takes for normal`}
              value={terms?.normally ?? null}
              options={['open', 'closed']}
              none="not known"
              locked={locked}
              onSet={(normally) => setTerms(point, 'normal state', { normally })}
            />
          </dd>
        </div>
        <div>
          <dt>Side of a changeover contact</dt>
          <dd>
            <SelectCell
              label={`Side of the contact of ${nameOf(point)}`}
              value={terms?.wiredTo ?? null}
              options={['normally open', 'normally closed']}
              none="not known"
              locked={locked}
              onSet={(wiredTo) => setTerms(point, 'side of the contact', { wiredTo })}
            />
          </dd>
        </div>
        <TermCell
          point={point}
          locked={locked}
          field="tolerancePercent"
          title="Input tolerance, %"
          unit="%"
        />
        <TermCell
          point={point}
          locked={locked}
          field="closedBelowOhms"
          title="Closed below, ohm"
          unit="ohm"
        />
        <TermCell
          point={point}
          locked={locked}
          field="resistorTolerancePercent"
          title="Resistors, ± %"
          unit="%"
        />
      </dl>
      <LoopTable point={point} />
    </div>
  )
}

function TermCell({
  point,
  locked,
  field,
  title,
  unit,
}: Line & {
  readonly field: 'tolerancePercent' | 'closedBelowOhms' | 'resistorTolerancePercent'
  readonly title: string
  readonly unit: string
}) {
  return (
    <div>
      <dt>{title}</dt>
      <dd>
        <AmountCell
          label={`${title} of ${nameOf(point)}`}
          value={point.terms?.[field] ?? null}
          unit={unit}
          locked={locked}
          onSet={(value) => setTerms(point, title.toLowerCase(), { [field]: value })}
        />
      </dd>
    </div>
  )
}

/** What is expected in every circumstance, what is told apart, what disagrees and what is missing. */
export function LoopTable({ point }: { readonly point: PointPage }) {
  const { loop } = point
  if (loop === null) return <p className="soft">Wired to nothing yet, so there is no loop to work out.</p>
  const { states, toldApart, disagreements, questions } = loop
  return (
    <>
      <table className="plain-table loop-table">
        <Headings names={['Circumstance', 'Contact', 'Expected', 'Means']} />
        <tbody>
          {states.map((each) => (
            <tr key={each.circumstance} className={each.meaning === 'not known' ? 'question' : ''}>
              <td>{each.circumstance}</td>
              <td>
                {each.contact ?? (each.meaning === 'cut' || each.meaning === 'short' ? '' : 'not known')}
              </td>
              <td>{each.words}</td>
              <td>{each.meaning}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <ul className="loop-words">
        {disagreements.map(({ words }) => (
          <li key={words} className="loop-trouble">
            {words}
          </li>
        ))}
        {toldApart.pairs.map(({ words, answer, gapOhms }) => (
          <li key={words} className={answer === 'no' ? 'loop-trouble' : answer === 'yes' ? '' : 'own'}>
            {words}
            {answer === 'yes' && gapOhms !== null ? ` ${Math.round(gapOhms)} ohm lie between.` : ''}
          </li>
        ))}
        {questions.map(({ words, whoCanSay }) => (
          <li key={words} className="own">
            {words} Ask {whoCanSay}.
          </li>
        ))}
      </ul>
    </>
  )
}

function OutputLine({ point, locked }: Line) {
  const { relay } = point
  const explain = (): void => pointAt({ form: 'point', point })
  return (
    <tr className={point.wiredToFitting === null ? 'question' : ''} onFocus={explain} onMouseEnter={explain}>
      <td className="mark">
        <PointName point={point} locked={locked} />
      </td>
      <td>
        <WiredTo point={point} locked={locked} />
      </td>
      <td>
        <SelectCell
          label={`Relay contact of ${nameOf(point)}`}
          value={relay?.contact ?? null}
          options={['normally open', 'normally closed']}
          none="as suits the lock"
          locked={locked}
          onSet={(contact) => setRelay(point, 'relay contact', { contact })}
        />
      </td>
      <td>
        <SelectCell
          label={`When ${nameOf(point)} is energised`}
          value={relay?.energised ?? null}
          options={['to release', 'to hold']}
          none="to release, not said"
          locked={locked}
          onSet={(energised) => setRelay(point, 'energised', { energised })}
        />
      </td>
      <td>
        <YesNoCell
          label={`Whether ${nameOf(point)} is released in open hours`}
          value={relay?.releasedInOpenHours ?? null}
          mayBeUnknown
          locked={locked}
          onSet={(releasedInOpenHours) => setRelay(point, 'open hours', { releasedInOpenHours })}
        />
      </td>
      <td className="amount">
        <AmountCell
          label={`Seconds ${nameOf(point)} unlocks for`}
          value={relay?.unlockSeconds ?? null}
          unit="seconds"
          locked={locked}
          onSet={(unlockSeconds) => setRelay(point, 'unlock time', { unlockSeconds })}
        />
      </td>
      <RemoveCell what={nameOf(point)} locked={locked} onRemove={() => removePoint(point)} />
    </tr>
  )
}
