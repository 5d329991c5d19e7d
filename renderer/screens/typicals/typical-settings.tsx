import type { TypicalLook } from '../../../core/contract/index.ts'
import { SheetHeading } from '../../ui/index.ts'
import { explains } from '../parts/index.ts'
import { SettingField } from '../settings/index.ts'
import { change } from './typical-state.ts'

/** What every fitting of the typical is designed to be set to. */
export function TypicalSettings({ look, locked }: { readonly look: TypicalLook; readonly locked: boolean }) {
  const fittings = look.fittings.filter(({ settings }) => settings.settings.length > 0)
  if (fittings.length === 0) return null
  return (
    <section aria-label="Settings as designed">
      <SheetHeading
        level={2}
        title="Settings as designed"
        facts="openings follow, where they say nothing else"
      />
      <table className="plain-table">
        <thead>
          <tr>
            <th scope="col">Device</th>
            <th scope="col">Setting</th>
            <th scope="col">Designed</th>
            <th scope="col">Means</th>
          </tr>
        </thead>
        <tbody>
          {fittings.flatMap((fitting) => [
            ...fitting.settings.settings.map(({ setting, designed }, index) => {
              const position = setting.positions.find(({ name }) => designed.known && name === designed.value)
              return (
                <tr
                  key={`${fitting.id} ${setting.id}`}
                  className={designed.known ? '' : 'question'}
                  {...explains(
                    `${setting.name} of ${fitting.tag}`,
                    ...setting.positions.map(
                      ({ name, meaning, factory }) =>
                        `${name}${factory ? ', as the factory leaves it' : ''}${meaning === null ? '.' : `: ${meaning}.`}`,
                    ),
                    ...(setting.notes === null ? [] : [setting.notes]),
                  )}
                >
                  <td className="mark">{index === 0 ? fitting.tag : ''}</td>
                  <td>{setting.name}</td>
                  <td>
                    {locked ? (
                      designed.known ? (
                        designed.value
                      ) : (
                        'not known'
                      )
                    ) : (
                      <SettingField
                        label={`${setting.name} of ${fitting.tag}, as designed`}
                        setting={setting}
                        value={designed.known ? designed.value : null}
                        onSet={(value) =>
                          change(`setting ${fitting.id} ${setting.id}`, {
                            does: 'set settings',
                            stage: 'designed',
                            sets: [
                              {
                                values: [{ settingId: setting.id, value }],
                                targets: [{ typicalFittingId: fitting.id }],
                              },
                            ],
                            visitId: null,
                          })
                        }
                      />
                    )}
                  </td>
                  <td className="soft">{position?.meaning ?? ''}</td>
                </tr>
              )
            }),
            ...fitting.settings.banks.map(({ bank, readings }) => (
              <tr key={`${fitting.id} ${bank.id}`} className="soft">
                <td aria-hidden="true" />
                <td>{bank.name} together</td>
                <td>
                  {readings.designed.state === 'chosen'
                    ? readings.designed.meaning
                    : readings.designed.state === 'not known'
                      ? 'not known'
                      : readings.designed.words}
                </td>
                <td aria-hidden="true" />
              </tr>
            )),
          ])}
        </tbody>
      </table>
    </section>
  )
}
