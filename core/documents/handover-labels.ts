// What labels say: settings inside a cover, a device, a cable. Their codes are plain words that any phone shows.
import type { Job, JobData, Opening } from '../job/index.ts'
import { compareMarks, effectiveFittings } from '../job/index.ts'
import { runsAtOpening } from '../runs/index.ts'
import { openingCode } from '../schedule/index.ts'
import { partBook, settingsOf, type PartBook } from '../settings/index.ts'
import type { Label } from './labels.ts'
import { cableLabels } from './runs-labels.ts'

export const labelForms = ['settings', 'devices', 'cables'] as const
export type LabelForm = (typeof labelForms)[number]

export const labelFormWords: Readonly<Record<LabelForm, string>> = {
  settings: 'Setting labels, for inside the cover',
  devices: 'Device labels',
  cables: 'Cable labels, one for each end',
}

/** The labels of one form for these openings, in the order in which people read marks. */
export function labelsOf(data: JobData, form: LabelForm, openings: readonly Opening[]): readonly Label[] {
  const ordered = openings.toSorted((one, other) => compareMarks(one.mark, other.mark))
  switch (form) {
    case 'settings': {
      const book = partBook(data)
      return ordered.flatMap((opening) => settingLabels(data, opening, book))
    }
    case 'devices':
      return ordered.flatMap((opening) => deviceLabels(data, opening))
    case 'cables':
      return cableLabels(data, [
        ...new Set(ordered.flatMap(({ id }) => runsAtOpening(data, id).map((run) => run.id as string))),
      ])
  }
}

/** As it was set where somebody noted that, else as it was designed; a device without settings needs none. */
function settingLabels(data: JobData, opening: Opening, book: PartBook): Label[] {
  return settingsOf(data, { openingId: opening.id }, book).flatMap(({ tag, partName, settings }): Label[] => {
    if (settings.length === 0) return []
    const lines = settings.map(({ setting, designed, set }) => {
      const value = set.known ? set.value : designed.known ? designed.value : null
      return `${setting.name}: ${value ?? 'not known'}${set.known || value === null ? '' : ' (as designed)'}`
    })
    return [
      {
        name: `${tag} of ${opening.mark}`,
        mark: `${opening.mark} ${tag}`,
        lines: [...lines, partName ?? ''].filter((each) => each !== ''),
        codeText: openingCode(data.job, opening.mark),
      },
    ]
  })
}

function deviceLabels(data: JobData, opening: Opening): Label[] {
  return effectiveFittings(data, opening).flatMap(({ leftOut, tag, part, serial, fitting }): Label[] =>
    leftOut
      ? []
      : [
          {
            name: `${tag} of ${opening.mark}`,
            mark: `${opening.mark} ${tag}`,
            lines: [
              part?.name ?? 'part not known',
              serial === null ? '' : `Serial ${serial}`,
              feedWords(data, fitting?.id ?? null),
            ].filter((each) => each !== ''),
            codeText: openingCode(data.job, opening.mark),
          },
        ],
  )
}

function feedWords(data: JobData, fittingId: string | null): string {
  if (fittingId === null) return ''
  for (const { fromOutputId } of data.referring('run', 'toFittingId', fittingId)) {
    const output = data.get('output', fromOutputId ?? '')
    const supply = data.get('supply', output?.supplyId ?? '')
    if (output !== undefined && supply !== undefined) return `Fed by ${supply.mark} ${output.name}`
  }
  return ''
}

/** The title of a sheet of labels. */
export const labelsTitle = (job: Job, form: LabelForm): string => `${job.name}: ${labelFormWords[form]}`
