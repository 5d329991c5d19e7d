// The cautions of the whole job: above all, what to ask of whom.
import { useEffect } from 'react'
import { wordsOfCaution, years } from '../../../core/cautions/index.ts'
import type { CautionsSheetData } from '../../../core/contract/index.ts'
import { Choice, SheetHeading } from '../../ui/index.ts'
import { useAsked } from '../use-asked.ts'
import { useWindow, type OpenJob } from '../window-state.ts'
import { giveAnswer } from './answer-controls.tsx'
import { AnswersView } from './answers-view.tsx'
import { BuildingCodeChoice, isKnownCode } from './building-code.tsx'
import { cautionViews, useCautions, type CautionView } from './cautions-state.ts'
import { CautionsView } from './cautions-view.tsx'
import './cautions.css'
import { OwnRulesView } from './own-rules-view.tsx'
import { jobPlace, levelName, levelPlace, typicalPlace } from './places.ts'
import { PrintButton } from './print-cautions.tsx'
import { QuestionsView } from './questions-view.tsx'

const viewWords: Readonly<Record<CautionView, string>> = {
  questions: 'Questions to answer',
  cautions: 'Cautions',
  answers: 'Answers given',
  'own rules': 'Rules of the job’s own',
}

function countOf(view: CautionView, data: CautionsSheetData): number {
  switch (view) {
    case 'questions':
      return data.questions.length
    case 'cautions':
      return Object.values(data.of).reduce(
        (sum, set) =>
          sum + (data.sets[set] ?? []).filter((at) => data.lines[at]?.verdict === 'caution').length,
        0,
      )
    case 'answers':
      return data.answers.length
    case 'own rules':
      return data.ownRules.length
  }
}

export function CautionsSheet() {
  const job = useWindow((state) => state.job)
  const view = useCautions((state) => state.view)
  const data = useAsked('cautions.read', {})
  useEffect(() => useCautions.setState({ data }), [data])
  if (job === null || data === null) return null
  return (
    <div className="cautions-sheet">
      <SheetHeading
        title="Cautions"
        facts={headingFacts(data)}
        actions={<PrintButton job={job}>Print…</PrintButton>}
      />
      <CodeLine job={job} data={data} />
      <div className="cautions-shows">
        {cautionViews.map((each) => (
          <button
            key={each}
            type="button"
            className="show-choice"
            aria-pressed={view === each}
            onClick={() => useCautions.setState({ view: each, pointed: null })}
          >
            {viewWords[each]} <small>{countOf(each, data)}</small>
          </button>
        ))}
      </div>
      {/* Scrolls, so it must take the focus. */}
      <div
        className={view === 'cautions' ? 'cautions-body fills' : 'cautions-body'}
        tabIndex={view === 'cautions' ? -1 : 0}
      >
        {view === 'questions' && <QuestionsView job={job} data={data} />}
        {view === 'cautions' && <CautionsView job={job} data={data} />}
        {view === 'answers' && <AnswersView job={job} data={data} />}
        {view === 'own rules' && <OwnRulesView job={job} data={data} />}
      </div>
      <p className="caution-words">{wordsOfCaution}</p>
    </div>
  )
}

function headingFacts({ questions, lines, sets, of }: CautionsSheetData): string {
  const trapped = new Set<string>()
  const broken = new Set<string>()
  for (const [openingId, set] of Object.entries(of))
    for (const at of sets[set] ?? []) {
      const line = lines[at]
      if (line?.verdict !== 'caution') continue
      if (line.severity === 'can trap someone') trapped.add(openingId)
      else if (line.severity === 'breaks a rule') broken.add(openingId)
    }
  const openings = (count: number): string => `${count} ${count === 1 ? 'opening' : 'openings'}`
  return [
    `${openings(trapped.size)} can trap someone`,
    `${openings(broken.size)} ${broken.size === 1 ? 'breaks' : 'break'} a rule`,
    `${questions.length} ${questions.length === 1 ? 'question' : 'questions'} to answer`,
  ].join(', ')
}

/** Which code and edition is in force, and for which part of the job questions are shown and answered. */
function CodeLine({ job, data }: { readonly job: OpenJob; readonly data: CautionsSheetData }) {
  const { scope, view } = useCautions()
  const locked = job.state.readOnly !== null
  const { buildingCode } = job.frame.job
  return (
    <div className="filter-bar">
      <BuildingCodeChoice job={job} />
      <Choice
        label="NFPA 101 too"
        disabled={locked || buildingCode?.startsWith('NFPA 101') === true}
        value={data.code.nfpa101}
        placeholder="Not said yet"
        options={[
          { key: 'none', label: 'Does not apply' },
          ...years.map((key) => ({ key, label: `NFPA 101 ${key}` })),
        ]}
        onChange={(value) =>
          void giveAnswer(job, data.answers, { fact: 'nfpa-101-edition', value, at: { at: 'job' } })
        }
      />
      {!isKnownCode(buildingCode) && (
        <span className="answer-problem">
          No rule here knows “{buildingCode}”; each stays not known until a code is chosen.
        </span>
      )}
      {view === 'questions' && (
        <label className="scope-choice">
          Ask about
          <select
            className="plain-select"
            value={scope}
            onChange={(event) => useCautions.setState({ scope: event.currentTarget.value })}
          >
            <option value={jobPlace}>the whole job</option>
            <optgroup label="Level">
              {job.frame.levels.map(({ id }) => (
                <option key={id} value={levelPlace(id)}>
                  {levelName(job, id)}
                </option>
              ))}
            </optgroup>
            <optgroup label="Typical">
              {job.frame.typicals.map(({ id, name }) => (
                <option key={id} value={typicalPlace(id)}>
                  {name}
                </option>
              ))}
            </optgroup>
          </select>
        </label>
      )}
    </div>
  )
}
