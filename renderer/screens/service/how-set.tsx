import type { FittingSettings } from '../../../core/settings/index.ts'
import { SheetHeading } from '../../ui/index.ts'

/** Every setting as it stands, beside its design. */
export function HowSet({ settings }: { readonly settings: readonly FittingSettings[] }) {
  const fittings = settings.filter((each) => each.settings.length > 0)
  if (fittings.length === 0) return null
  return (
    <section aria-label="How it is set">
      <SheetHeading level={2} title="How it is set" facts="as it stands: the later of set and found" />
      <table className="plain-table">
        <thead>
          <tr>
            <th scope="col">Device</th>
            <th scope="col">Setting</th>
            <th scope="col">Stands at</th>
            <th scope="col">Designed</th>
            <th scope="col">Noted</th>
          </tr>
        </thead>
        <tbody>
          {fittings.flatMap((fitting) => [
            ...fitting.settings.map(({ setting, standing, designed, differences }, index) => (
              <tr key={`${fitting.tag} ${setting.id}`} className={differences.length > 0 ? 'question' : ''}>
                <td className="mark">{index === 0 ? fitting.tag : ''}</td>
                <td>
                  {setting.name}
                  {index === 0 && fitting.partName !== null && (
                    <span className="soft"> {fitting.partName}</span>
                  )}
                </td>
                <td className={differences.length > 0 ? 'own' : ''}>
                  {standing.known ? standing.value : <span className="soft">not noted</span>}
                </td>
                <td>{designed.known ? designed.value : <span className="soft">not known</span>}</td>
                <td className="soft">
                  {standing.known
                    ? [standing.who, standing.at?.slice(0, 10)].filter((each) => each != null).join(', ')
                    : ''}
                </td>
              </tr>
            )),
            ...fitting.banks.map(({ bank, readings, differs }) => (
              <tr key={`${fitting.tag} ${bank.id}`} className={differs === null ? '' : 'question'}>
                <td className="mark">
                  <span className="for-ears">{fitting.tag}</span>
                </td>
                <td>{bank.name} together</td>
                <td>{meaningOf(readings.standing)}</td>
                <td colSpan={2}>{meaningOf(readings.designed)}</td>
              </tr>
            )),
          ])}
        </tbody>
      </table>
    </section>
  )
}

const meaningOf = (reading: FittingSettings['banks'][number]['readings']['standing']): string =>
  reading.state === 'chosen' ? reading.meaning : reading.state === 'not known' ? '' : reading.words
