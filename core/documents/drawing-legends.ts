// What the lines of an elevation and the halves of a gate mark mean.
import type { GatePassage } from './gate.ts'
import type { LegendBlock, LegendEntry } from './blocks.ts'

type Section = LegendBlock['sections'][number]

const half = (passage: GatePassage | 'trapped', meaning: string): LegendEntry => ({
  sign: { passage },
  meaning,
})

/** Left half going in, right half going out. Show it wherever gate marks stand. */
export const gateLegend: Section = {
  heading: 'Passage: left half going in, right half going out',
  entries: [
    half({ form: 'held' }, 'Held: nobody passes'),
    half({ form: 'free' }, 'Free: a push or a pull opens it'),
    half({ form: 'free by hardware', motions: 1 }, 'Free by one motion of hardware'),
    half({ form: 'free by hardware', motions: 2 }, 'Takes as many motions as there are strokes'),
    half({ form: 'waits', seconds: 15 }, 'Waits that many seconds, then is free'),
    half({ form: 'not known' }, 'Not known: a fact is missing. It is never taken as a pass'),
    half('trapped', 'A person cannot get out, and no accepted arrangement covers it'),
  ],
}

/** Conventions of the elevation. Common practice, no source. */
export const elevationLegend: Section = {
  heading: 'Elevation',
  entries: [
    {
      sign: { text: 'Dashed triangle' },
      meaning: 'Its lines meet at the hinges; the leaf opens away from you',
    },
    {
      sign: { text: 'Unbroken triangle' },
      meaning: 'Its lines meet at the hinges; the leaf opens towards you',
    },
    { sign: { text: 'Dashed fitting' }, meaning: 'Stands on the other side' },
    { sign: { text: 'Tag with ?' }, meaning: 'The side it stands on is not known' },
    {
      sign: { text: 'Places' },
      meaning:
        'Fittings stand where their placement and pattern say, and where nothing is said where they usually do',
    },
    { sign: { text: 'Size' }, meaning: 'Width and height of the opening inside the frame, to scale' },
  ],
}
