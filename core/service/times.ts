// For how long a door stays released, as it is set: what a caller asks first.
import { bankWords } from '../settings/index.ts'
import { isTime } from './bearing.ts'
import type { Scene } from './scene.ts'

export interface ReleaseTime {
  /** "S1 Hold time". */
  readonly what: string
  /** As it stands, else as designed; null is not known. */
  readonly stands: string | null
  /** Where it stands otherwise than designed. */
  readonly designed: string | null
}

export const releaseTimes = ({ settings }: Scene): ReleaseTime[] =>
  settings.flatMap((here) => {
    const { tag, settings: states, banks } = here.fitting
    const inBanks = new Set(banks.flatMap(({ bank }) => bank.settings))
    return [
      ...states
        .filter(({ setting }) => !inBanks.has(setting.name) && isTime(here, setting.name))
        .map(({ setting, standing, designed, differences }): ReleaseTime => {
          const meant = designed.known ? designed.value : null
          return {
            what: `${tag} ${setting.name}`,
            stands: standing.known ? standing.value : meant,
            designed: differences.length > 0 ? meant : null,
          }
        }),
      ...banks
        .filter(({ bank }) => isTime(here, bank.name))
        .map(({ bank, readings, differs }): ReleaseTime => {
          const reading = readings.standing.state === 'not known' ? readings.designed : readings.standing
          return {
            what: `${tag} ${bank.name}`,
            stands: reading.state === 'not known' ? null : bankWords(reading),
            designed: differs === null ? null : bankWords(readings.designed),
          }
        }),
    ]
  })
