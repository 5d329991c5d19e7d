import type { TypicalLook } from '../../../core/contract/index.ts'
import { fittingPlaces, type JobRecord, type Units } from '../../../core/job/index.ts'
import type { TypicalFittingView } from '../../../core/parts/index.ts'
import type { Command } from '../../../core/schedule/index.ts'
import { Button, SheetHeading } from '../../ui/index.ts'
import { NameCell } from '../job/index.ts'
import { AddPart } from '../opening/index.ts'
import { explains, LengthCell, SelectCell } from '../parts/index.ts'
import { hrefOf } from '../place.ts'
import { makeChange, type OpenJob } from '../window-state.ts'
import { change, useTypical } from './typical-state.ts'

type RecordsCommand = Extract<Command, { does: 'change records' }>
const records = (name: string, some: Partial<RecordsCommand>): RecordsCommand => ({
  does: 'change records',
  name,
  add: [],
  set: [],
  remove: [],
  ...some,
})

/** The parts it is made of, each with its leaf and its place. */
export function TypicalFittings({
  typicalId,
  name,
  look,
  job,
  locked,
}: {
  readonly typicalId: string
  readonly name: string
  readonly look: TypicalLook
  readonly job: OpenJob
  readonly locked: boolean
}) {
  const isTrying = useTypical((state) => state.trying !== null)
  return (
    <section aria-label="Fittings" className="typical-fittings">
      <SheetHeading level={2} title="Fittings" facts="every opening that follows it has these" />
      <div className="wide-table">
        <table className="plain-table">
          <thead>
            <tr>
              <th scope="col">Fitting</th>
              <th scope="col">Part</th>
              <th scope="col">Leaf</th>
              <th scope="col">Place</th>
              <th scope="col">Side</th>
              <th scope="col">Height</th>
              <th scope="col">
                <span className="for-ears">Deeds</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {look.fittings.map((fitting) => (
              <FittingRow
                key={fitting.id}
                fitting={fitting}
                name={name}
                parts={job.parts}
                units={job.frame.job.units}
                locked={locked}
              />
            ))}
            {look.fittings.length === 0 && (
              <tr>
                <td colSpan={7} className="soft">
                  No fittings yet. Add the parts this arrangement is made of.
                </td>
              </tr>
            )}
          </tbody>
        </table>
      </div>
      {!locked && isTrying && (
        <p className="padded soft">Adding a part is written at once: keep or drop what is tried first.</p>
      )}
      {!locked && !isTrying && (
        <AddPart
          job={job}
          label="Add a part"
          onAdd={(partId) => makeChange({ does: 'add typical fitting', typicalId, partId, tag: null })}
        />
      )}
    </section>
  )
}

function FittingRow({
  fitting,
  name,
  parts,
  units,
  locked,
}: {
  readonly fitting: TypicalFittingView
  readonly name: string
  readonly parts: OpenJob['parts']
  readonly units: Units
  readonly locked: boolean
}) {
  const { id, tag, leaf, placement, usual } = fitting
  const set = (fields: Extract<Command, { does: 'set typical fitting' }>['fields'], what = 'part'): void =>
    change(`${what} ${id}`, { does: 'set typical fitting', typicalFittingId: id, fields })
  const place = (fields: Partial<JobRecord<'placement'>>): void => {
    const words = `Say where ${tag} of ${name} goes`
    change(
      `place ${id}`,
      placement === null
        ? records(words, {
            add: [
              {
                kind: 'placement',
                record: {
                  id: 'new:1',
                  partId: null,
                  typicalFittingId: id,
                  fittingId: null,
                  place: usual?.place ?? null,
                  side: usual?.side ?? null,
                  heightMicrometres: usual?.heightMicrometres ?? null,
                  acrossMicrometres: usual?.acrossMicrometres ?? null,
                  ...fields,
                },
              },
            ],
          })
        : records(words, { set: [{ kind: 'placement', id: placement.id, fields }] }),
    )
  }
  const stands = placement ?? usual
  const own = placement === null ? '' : 'own'
  return (
    <tr
      {...explains(
        `${tag}: ${fitting.partName}`,
        leaf === null
          ? 'It does not say on which leaf of a pair it goes; on a single leaf that is no question.'
          : `On a pair it goes on the ${leaf.leaf} leaf.`,
        placement === null
          ? usual === null
            ? 'Where it goes is not known.'
            : 'It goes where its part says.'
          : 'Where it goes is said here, over what its part says.',
      )}
    >
      <td className="mark">
        <NameCell name={tag} label="Tag" locked={locked} onSet={(next) => set({ tag: next }, 'tag')} />
      </td>
      <td className="part">
        <span className="part-choice">
          <SelectCell
            label={`Part of ${tag}`}
            value={fitting.partId}
            options={parts.map((each) => ({ key: each.id, label: each.name }))}
            locked={locked}
            onSet={(partId) => partId !== null && set({ partId })}
          />
          <a
            className="link"
            href={hrefOf({ sheet: 'part', partId: fitting.partId })}
            aria-label={`See the part of ${tag}`}
          >
            See
          </a>
        </span>
      </td>
      <td>
        <SelectCell
          label={`Leaf of ${tag}`}
          value={leaf?.leaf ?? null}
          options={['active', 'inactive']}
          none="—"
          locked={locked}
          onSet={(next) => setLeaf(fitting, name, next)}
        />
      </td>
      <td className={own}>
        <SelectCell
          label={`Place of ${tag}`}
          value={stands?.place ?? null}
          options={fittingPlaces}
          none="not known"
          locked={locked}
          onSet={(next) => place({ place: next as JobRecord<'placement'>['place'] })}
        />
      </td>
      <td className={own}>
        <SelectCell
          label={`Side of ${tag}`}
          value={stands?.side ?? null}
          options={['keyed', 'egress']}
          none="—"
          locked={locked}
          onSet={(next) => place({ side: next as JobRecord<'placement'>['side'] })}
        />
      </td>
      <td className={own === '' ? 'narrow' : 'narrow own'}>
        <LengthCell
          label={`Height of ${tag}`}
          value={stands?.heightMicrometres ?? null}
          units={units}
          locked={locked}
          onSet={(heightMicrometres) => place({ heightMicrometres })}
        />
      </td>
      <td className="deeds">
        {!locked && placement !== null && (
          <Button
            kind="quiet"
            label={`Let ${tag} go where its part says`}
            onPress={() =>
              change(
                `place ${id}`,
                records(`Let ${tag} of ${name} go where its part says`, {
                  remove: [{ kind: 'placement', id: placement.id }],
                }),
              )
            }
          >
            As the part
          </Button>
        )}
        {!locked && (
          <Button
            kind="quiet"
            label={`Take out ${tag}`}
            onPress={() => change(`part ${id}`, { does: 'remove typical fitting', typicalFittingId: id })}
          >
            Take out
          </Button>
        )}
      </td>
    </tr>
  )
}

function setLeaf({ id, tag, leaf }: TypicalFittingView, name: string, next: string | null): void {
  const words =
    next === null ? `Let ${tag} of ${name} say no leaf` : `Put ${tag} of ${name} on the ${next} leaf`
  if (next === null && leaf === null) return
  change(
    `leaf ${id}`,
    next === null
      ? records(words, { remove: [{ kind: 'typicalFittingLeaf', id: leaf?.id ?? '' }] })
      : leaf === null
        ? records(words, {
            add: [
              {
                kind: 'typicalFittingLeaf',
                record: { id: 'new:1', typicalFittingId: id, leaf: next },
              },
            ],
          })
        : records(words, { set: [{ kind: 'typicalFittingLeaf', id: leaf.id, fields: { leaf: next } }] }),
  )
}
