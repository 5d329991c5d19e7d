// Limits on what may be cut on site into a labelled door or frame. The same facts as the rules of core/cautions, which
// this folder may not know; here each hole of a pattern is held against them.
import { micrometresPerInch } from '../job/index.ts'
import type { LimitSource } from './model.ts'

/** Round holes of at most 1 in. on site. Read in [S57] of standards.md 3; the section numbers in [S56]. */
export const largestRoundHoleMicrometres = micrometresPerInch
export const jobSiteHoles: LimitSource = {
  words: 'NFPA 80 2013 and 2016, 4.1.3; 2022, 5.1.5.2: job-site preparation',
  standing: 'verified',
}
/** Read in [S58] of standards.md 3, a secondary page whose section number was not kept. */
export const raceways: LimitSource = {
  words: 'NFPA 80: field-drilled wire raceways only where the listing laboratory permits; section not read',
  standing: 'from memory',
}
/** Read in [S59] of standards.md 3. */
export const pockets: LimitSource = {
  words: 'NFPA 80: a cut pocket is a field modification; the listing laboratory decides before it is cut',
  standing: 'verified',
}
