import { useState } from 'react'
import { elevationWords, type ElevationInput } from '../../../core/documents/index.ts'
import { elevation, type Drawing } from '../../drawing/index.ts'
import { Button, DrawingView } from '../../ui/index.ts'
import { useAsked } from '../use-asked.ts'
import { showFitting, usePreparation } from './preparation-state.ts'
import './preparation.css'

const room = { width: 330, height: 360, textSize: 12 }

/** The doorway to scale with its fittings; the one chosen from the list is shown up. */
export function OpeningElevation({ openingId }: { readonly openingId: string }) {
  const asked = useAsked('preparation.opening', { openingId })
  const shown = usePreparation((state) => state.shown)
  const [seenFrom, setSeenFrom] = useState<ElevationInput['seenFrom']>('egress')
  if (asked === null) return null
  const input: ElevationInput = { ...asked.elevation, seenFrom }
  const other = seenFrom === 'egress' ? 'keyed' : 'egress'
  const without = input.fittings.filter(({ placement }) => placement === null)
  return (
    <figure className="elevation placed">
      <DrawingView drawing={shownUp(elevation(input, room), shown)} />
      <figcaption className="soft">
        {elevationWords(input)} Broken lines are on the {other} side.
      </figcaption>
      <p className="elevation-side">
        <Button kind="quiet" onPress={() => setSeenFrom(other)}>
          See it from the {other} side
        </Button>
      </p>
      <ul className="elevation-list" aria-label="Fittings on the elevation">
        {input.fittings.map(({ tag, placement }) => (
          <li key={tag} className={placement === null ? 'question' : ''}>
            <button type="button" aria-pressed={shown === tag} onClick={() => showFitting(tag)}>
              {tag}
            </button>
          </li>
        ))}
      </ul>
      {without.length > 0 && (
        <p className="elevation-without">Place not known: {without.map(({ tag }) => tag).join(', ')}.</p>
      )}
    </figure>
  )
}

/** The same drawing with one fitting and its tag in another ink and heavier lines. */
function shownUp(drawing: Drawing, tag: string | null): Drawing {
  if (tag === null) return drawing
  const parts = new Set([`fitting ${tag}`, `label ${tag}`, `leader ${tag}`])
  return {
    ...drawing,
    shapes: drawing.shapes.map((shape) => {
      if (shape.part === undefined || !parts.has(shape.part)) return shape
      if (shape.form === 'polygon') return { ...shape, fill: 'blue' }
      return 'width' in shape ? { ...shape, ink: 'blue', width: shape.width * 2 } : { ...shape, ink: 'blue' }
    }),
  }
}
