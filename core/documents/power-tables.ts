// The lists of power as sheets of a workbook: numbers stay numbers, what is not known stays empty with its verdict beside it.
import type { JobData } from '../job/index.ts'
import { outputPage, powerOverview, type DeviceFigure, type JobPower } from '../power/index.ts'

export interface PowerTable {
  readonly name: string
  readonly columns: readonly {
    readonly heading: string
    readonly width: number
    readonly form: 'text' | 'number'
  }[]
  readonly rows: readonly (readonly (string | number | null)[])[]
}

const text = (heading: string, width = 14) => ({ heading, width, form: 'text' as const })
const number = (heading: string, width = 12) => ({ heading, width, form: 'number' as const })
const rounded = (value: number | null): number | null =>
  value === null ? null : Math.round(value * 1e4) / 1e4

export function powerTables(
  data: JobData,
  job: JobPower,
): { readonly supplies: PowerTable; readonly outputs: PowerTable; readonly devices: PowerTable } {
  const { supplies } = powerOverview(data, job)
  const outputs = supplies.flatMap((supply) => supply.outputs.map((output) => ({ supply, output })))
  return {
    supplies: {
      name: 'Supplies',
      columns: [
        text('Supply'),
        text('Where', 24),
        text('Verdict'),
        number('Rated V'),
        number('Rated A'),
        number('Holding A'),
        number('Worst moment A'),
        number('Limit A'),
        number('Battery Ah'),
        number('Required Ah'),
        number('Lasts h'),
        number('Wanted h'),
        number('Lowest V'),
        text('Lowest at', 18),
        number('Questions'),
      ],
      rows: supplies.map(({ mark, where, verdict, ratedVolts, load, battery, lowest, questions }) => [
        mark,
        where,
        verdict,
        ratedVolts,
        load.ratedAmps,
        rounded(load.holdingAmps),
        rounded(load.worstAmps),
        rounded(load.limitAmps),
        battery.ampHours,
        rounded(battery.requiredAmpHours),
        rounded(battery.lastsHours),
        battery.wantedHours,
        rounded(lowest?.volts ?? null),
        lowest?.name ?? '',
        questions,
      ]),
    },
    outputs: {
      name: 'Outputs',
      columns: [
        text('Output', 18),
        text('Verdict'),
        number('Holding A'),
        number('Worst moment A'),
        number('Rated A'),
        text('Fuse A'),
        text('Class 2'),
        number('Devices'),
        number('Lowest V'),
        text('Lowest at', 18),
      ],
      rows: outputs.map(({ output }) => [
        output.fullName,
        output.verdict,
        rounded(output.load.holdingAmps),
        rounded(output.load.worstAmps),
        output.load.ratedAmps,
        output.fuse.amps === null ? '' : String(output.fuse.amps),
        output.classTwo,
        output.devices,
        rounded(output.lowest?.volts ?? null),
        output.lowest?.name ?? '',
      ]),
    },
    devices: {
      name: 'Devices',
      columns: [
        text('Device', 18),
        text('Output', 18),
        number('Along the cable m'),
        number('Least V'),
        number('Nominal V'),
        number('Worst moment V'),
        number('Margin V'),
        number('Battery end V'),
        number('Margin then V'),
        text('Verdict'),
      ],
      rows: outputs.flatMap(({ output }) =>
        (output.devices === 0 ? [] : (outputPage(data, job, output.id)?.devices ?? [])).map((device) => [
          device.name,
          output.fullName,
          rounded(device.metres),
          device.minimumVolts,
          volts(device.nominal),
          volts(device.worst),
          rounded(device.worst?.marginVolts ?? null),
          volts(device.battery),
          rounded(device.battery?.marginVolts ?? null),
          verdictOf(device.worst, device.battery),
        ]),
      ),
    },
  }
}

const volts = (figure: DeviceFigure | null): number | null => rounded(figure?.volts ?? null)

function verdictOf(worst: DeviceFigure | null, battery: DeviceFigure | null): string {
  const verdicts = [worst?.verdict, battery?.verdict]
  return verdicts.includes('not met') ? 'not met' : verdicts.includes('not known') ? 'not known' : 'met'
}
