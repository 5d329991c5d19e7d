import type { SurfaceName, Tape } from '../../../core/preparation/index.ts'
import { Citation, MarginFacts, MarginText, MarginTitle } from '../../ui/index.ts'
import { usePreparation } from './preparation-state.ts'

/** Why a face is measured from its two lines. Common practice, no source. */
const reasons: Readonly<Record<SurfaceName, string>> = {
  'frame head':
    'From the strike edge, so that left and right do not matter and the body keeps its room to slide; from the stop, where the leaf comes to rest.',
  'frame head face':
    'From the strike edge, so that left and right do not matter; from the lower edge of the face, which the leaf follows.',
  'frame strike jamb': 'From the stop, where the leaf comes to rest; the height follows the latch.',
  'frame hinge jamb':
    'From the stop, where the leaf comes to rest; the height is that of its half in the leaf.',
  'leaf face':
    'From the edges of the leaf itself, since gaps differ from door to door. Shut it against its stop before marking.',
  'leaf top edge': 'From the pull face, which lies where the rabbet begins; under its half in the frame.',
  'leaf strike edge': 'From the middle line of the edge, so that a bevel does not matter.',
  'leaf hinge edge': 'From the middle line of the edge; the height is that of its half in the frame.',
}

const said = (tape: Tape | null): string =>
  tape === null ? 'not known' : `${tape.text} ${tape.towards} from ${tape.from}`

/** Explains the hole under the cursor: where from, why, and who says so. */
export function PointedHole({ openingId }: { readonly openingId: string }) {
  const pointed = usePreparation((state) => state.pointed)
  if (pointed === null || pointed.openingId !== openingId) return null
  const { preparation, surface, hole } = pointed
  const pattern = preparation.patterns.find(({ holes }) => holes.some(({ id }) => id === hole.id))
  return (
    <>
      <MarginTitle>
        Hole {hole.number} of {preparation.tag}, {hole.name}
      </MarginTitle>
      <MarginFacts
        facts={[
          { name: 'Across', value: said(hole.across) },
          { name: 'Along', value: said(hole.along) },
          ...(hole.acrossAgain === null ? [] : [{ name: 'To check', value: said(hole.acrossAgain) }]),
          { name: 'Size', value: `${hole.sizeText}, ${hole.depthText}` },
          ...(hole.fastener === null ? [] : [{ name: 'Takes', value: hole.fastener }]),
        ]}
      />
      <MarginText>{reasons[surface.name]}</MarginText>
      {pattern?.notes != null && <MarginText>{pattern.notes}</MarginText>}
      <Citation>
        Pattern “{pattern?.name ?? 'not known'}” of the part, common practice without a source. The papers
        that come with the part decide where they say otherwise.
      </Citation>
    </>
  )
}
