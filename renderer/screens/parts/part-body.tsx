import { fittingPlaces, writeLength, type Units } from '../../../core/job/index.ts'
import { NameCell } from '../job/index.ts'
import { TextCell } from '../text-cell.tsx'
import { LengthCell, SelectCell } from './cells.tsx'
import { freshName, type PartSectionProps } from './part-behaviour.tsx'
import { addRecords, explains, nextPosition, removeRecord, setRecord, type Fields } from './part-state.ts'
import { Headings, RemoveCell, Section } from './section.tsx'

type Sized = PartSectionProps & { readonly units: Units }

const bodyLengths = [
  ['widthMicrometres', 'Width'],
  ['heightMicrometres', 'Height'],
  ['depthMicrometres', 'Depth'],
  ['clearMicrometres', 'Kept clear'],
] as const

/** Where it usually goes, how big it is, and what is drilled for it. */
export function PartBody({ of, part, locked, units }: Sized) {
  return (
    <>
      <Section title="Where it goes" facts="unless a typical or an opening says otherwise" locked={locked}>
        <Placement of={of} part={part} locked={locked} units={units} />
      </Section>
      <Section
        title="Bodies"
        facts="how big, and what stays free beside each"
        add="Add a body"
        locked={locked}
        onAdd={() =>
          addRecords(`Add a body to ${part.name}`, {
            kind: 'partBody',
            record: {
              partId: part.id,
              position: nextPosition(of.partBody),
              name: freshName('body', of.partBody),
              widthMicrometres: null,
              heightMicrometres: null,
              depthMicrometres: null,
              clearMicrometres: null,
              clearSide: null,
            },
          })
        }
      >
        {of.partBody.length === 0 ? (
          <p className="padded soft">Its size is not known.</p>
        ) : (
          <table className="plain-table">
            <Headings names={['Body', ...bodyLengths.map(([, label]) => label), 'Clear on', '']} />
            <tbody>
              {of.partBody.map((body) => {
                const set = (fields: Fields) =>
                  setRecord(`Change the ${body.name} of ${part.name}`, 'partBody', body.id, fields)
                return (
                  <tr
                    key={body.id}
                    {...explains(
                      `The ${body.name}`,
                      'Preparation checks with it that nothing overlaps and that it can slide on and off.',
                    )}
                  >
                    <td className="mark">
                      <NameCell
                        name={body.name}
                        label="Body"
                        locked={locked}
                        onSet={(name) => void set({ name })}
                      />
                    </td>
                    {bodyLengths.map(([field, label]) => (
                      <td key={field} className="narrow">
                        <LengthCell
                          label={`${label} of the ${body.name}`}
                          value={body[field]}
                          units={units}
                          locked={locked}
                          onSet={(value) => set({ [field]: value })}
                        />
                      </td>
                    ))}
                    <td>
                      <TextCell
                        text={body.clearSide}
                        label={`Side kept clear beside the ${body.name}`}
                        locked={locked}
                        onSet={(clearSide) => set({ clearSide })}
                      />
                    </td>
                    <RemoveCell
                      what={`the ${body.name}`}
                      locked={locked}
                      onRemove={() =>
                        removeRecord(`Remove the ${body.name} of ${part.name}`, 'partBody', body.id)
                      }
                    />
                  </tr>
                )
              })}
            </tbody>
          </table>
        )}
      </Section>
      <Patterns of={of} part={part} locked={locked} units={units} />
    </>
  )
}

function Placement({ of, part, locked, units }: Sized) {
  const [placement] = of.placement
  const name = `Say where ${part.name} goes`
  const set = (fields: Fields) =>
    placement === undefined
      ? addRecords(name, {
          kind: 'placement',
          record: {
            partId: part.id,
            typicalFittingId: null,
            fittingId: null,
            place: null,
            side: null,
            heightMicrometres: null,
            acrossMicrometres: null,
            ...fields,
          },
        })
      : setRecord(name, 'placement', placement.id, fields)
  return (
    <dl className="fact-grid">
      <div
        {...explains(
          'Place',
          'On the frame, on the leaf or beside the doorway, as somebody leaving sees it.',
        )}
      >
        <dt>Place</dt>
        <dd>
          <SelectCell
            label="Place"
            value={placement?.place ?? null}
            options={fittingPlaces}
            none="not known"
            locked={locked}
            onSet={(place) => set({ place })}
          />
        </dd>
      </div>
      <div {...explains('Side', 'The side a key is used from, or the side people leave from.')}>
        <dt>Side</dt>
        <dd>
          <SelectCell
            label="Side"
            value={placement?.side ?? null}
            options={['keyed', 'egress']}
            none="neither, or not known"
            locked={locked}
            onSet={(side) => set({ side })}
          />
        </dd>
      </div>
      <div {...explains('Height', 'Its middle above the finished floor. Rules about reach ask it.')}>
        <dt>Height above the floor</dt>
        <dd>
          <LengthCell
            label="Height above the floor"
            value={placement?.heightMicrometres ?? null}
            units={units}
            locked={locked}
            onSet={(heightMicrometres) => set({ heightMicrometres })}
          />
        </dd>
      </div>
      <div {...explains('Across', 'Its middle from the strike edge of the leaf.')}>
        <dt>From the strike edge</dt>
        <dd>
          <LengthCell
            label="From the strike edge"
            value={placement?.acrossMicrometres ?? null}
            units={units}
            locked={locked}
            onSet={(acrossMicrometres) => set({ acrossMicrometres })}
          />
        </dd>
      </div>
    </dl>
  )
}

function Patterns({ of, locked, units }: Sized) {
  if (of.partPattern.length === 0) return null
  return (
    <Section title="Preparation patterns" facts="what is drilled, for each material" locked={locked}>
      <table className="plain-table">
        <Headings names={['Pattern', 'Material', 'Goes on', 'Holes', 'Largest', 'Notes']} />
        <tbody>
          {of.partPattern.map((pattern) => {
            const holes = of.partHole.filter(({ partPatternId }) => partPatternId === pattern.id)
            const fits = of.partPatternFit.filter(({ partPatternId }) => partPatternId === pattern.id)
            const largest = Math.max(0, ...holes.map(({ diameterMicrometres }) => diameterMicrometres ?? 0))
            return (
              <tr
                key={pattern.id}
                {...explains(
                  pattern.name,
                  ...holes
                    .slice(0, 8)
                    .map(
                      ({ name, diameterMicrometres, drilledWith }) =>
                        `${name}: ${diameterMicrometres === null ? 'size not known' : writeLength(diameterMicrometres, units, { style: 'inches' })}${drilledWith === null ? '' : `, ${drilledWith}`}.`,
                    ),
                )}
              >
                <td>{pattern.name}</td>
                <td>{pattern.substrate}</td>
                <td className={fits.length === 0 ? 'soft' : ''}>
                  {fits.length === 0
                    ? 'not said'
                    : fits
                        .map(({ goesOn, swing }) => (swing === null ? goesOn : `${goesOn}, ${swing}`))
                        .join('; ')}
                </td>
                <td>{holes.length}</td>
                <td>{largest === 0 ? '—' : writeLength(largest, units, { style: 'inches' })}</td>
                <td className="wrap soft">{pattern.notes}</td>
              </tr>
            )
          })}
        </tbody>
      </table>
    </Section>
  )
}
