// Where holes go, and in which order things are fitted.
import {
  done,
  refused,
  type Answer,
  type Given,
  type Handlers,
  type MadeFile,
  type preparationContract,
  type PreparationSheetName,
} from '../../core/contract/index.ts'
import {
  elevationOfOpening,
  fittingSheet,
  joinedSheets,
  preparationSheet,
  templateSheet,
  type DocumentBlocks,
} from '../../core/documents/index.ts'
import { doorFromJob, fittingPlacements, prepareDoor } from '../../core/preparation/index.ts'
import type { JobFile } from '../store/index.ts'
import { noJob, withFile, type Desk } from './desk.ts'
import { pressed, sheetSize } from './made-files.ts'
import { openingsAsked } from './openings-asked.ts'

export const preparationCalls = (desk: Desk): Handlers<typeof preparationContract> => ({
  'preparation.opening': ({ openingId }) =>
    withFile(desk, ({ data }) => {
      const opening = data.get('opening', openingId)
      if (opening === undefined) return refused('gone', 'That opening is no longer in this job.')
      const door = doorFromJob(data, opening)
      const sides = new Map(door.fittings.map(({ key, side }) => [key, side]))
      return done({
        result: prepareDoor(door),
        elevation: elevationOfOpening(data, opening),
        placements: fittingPlacements(data, opening, (key) => sides.get(key) ?? null),
        frame: data.referring('openingFrame', 'openingId', opening.id)[0] ?? null,
      })
    }),
  'print.preparation': async (asked) => {
    const { file } = desk
    return file === null ? noJob() : print(file, asked, desk.options.now())
  },
})

type Asked = Given<typeof preparationContract, 'print.preparation'>

interface SheetForm {
  readonly make: typeof preparationSheet
  /** Of several openings. */
  readonly title: string
  readonly orientation: 'landscape' | 'portrait'
}
const sheets: Readonly<Record<PreparationSheetName, SheetForm>> = {
  preparation: { make: preparationSheet, title: 'Preparation sheets', orientation: 'landscape' },
  template: { make: templateSheet, title: 'Full-size templates', orientation: 'landscape' },
  fitting: { make: fittingSheet, title: 'Fitting sheets', orientation: 'portrait' },
}

async function print(
  { data }: JobFile,
  { sheet, of, only }: Asked,
  createdAt: string,
): Promise<Answer<MadeFile>> {
  const openings = openingsAsked(data, of)
  if (openings.length === 0) return refused('gone', 'There is no opening to print a sheet of.')
  const { make, title, orientation } = sheets[sheet]
  const documents = openings.flatMap((opening): DocumentBlocks[] => {
    const door = doorFromJob(data, opening)
    const result = prepareDoor(door)
    const wanted =
      only === 'all' ? result.preparations : result.preparations.filter(({ mayDrill }) => mayDrill)
    if (wanted.length === 0 && openings.length > 1) return []
    if (wanted.length === 0 && only !== 'all') return []
    return [make(data.job, door, { ...result, preparations: wanted })]
  })
  const document = joinedSheets(documents, title)
  if (document === null)
    return refused(
      'nothing-to-print',
      only === 'all'
        ? 'No fitting of these openings has a pattern to drill by.'
        : 'Nothing here may be drilled yet: the checks of each opening say why.',
    )
  return pressed(document, {
    name: `${data.job.name} - ${document.facts.title.toLowerCase()}`,
    pageSize: sheetSize(data.job),
    createdAt,
    orientation,
  })
}
