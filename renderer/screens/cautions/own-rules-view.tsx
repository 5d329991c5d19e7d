// Rules of the job's own, for local amendments: made, changed and removed here.
import { useState } from 'react'
import {
  answerers,
  arrangements,
  expectedWords,
  factKeys,
  facts,
  isFactKey,
  readLocalRule,
  severities,
} from '../../../core/cautions/index.ts'
import type { CautionsSheetData, OwnRule } from '../../../core/contract/index.ts'
import { severityWords } from '../../../core/documents/index.ts'
import { asId, type JobRecord } from '../../../core/job/index.ts'
import { Button, Choice, Dialog, EmptySheet, Field } from '../../ui/index.ts'
import { makeChange, type OpenJob } from '../window-state.ts'
import { point } from './cautions-state.ts'

type Fields = Omit<JobRecord<'localRule'>, 'id'>

const fresh = (position: number): Fields => ({
  position,
  sentence: '',
  citation: '',
  question: '',
  answeredBy: 'fire marshal',
  wanted: 'yes',
  severity: 'breaks a rule',
  appliesTo: 'every opening',
  fact: null,
  factIs: null,
  arrangement: null,
})

type Editing = { readonly id: string | null; readonly fields: Fields }

export function OwnRulesView({ job, data }: { readonly job: OpenJob; readonly data: CautionsSheetData }) {
  const [editing, setEditing] = useState<Editing | null>(null)
  const locked = job.state.readOnly !== null
  const positions = data.ownRules.map(({ record }) => record.position)
  const add = (): void => setEditing({ id: null, fields: fresh(Math.max(-1, ...positions) + 1) })
  return (
    <>
      <div className="filter-bar">
        <span className="soft">
          What a city, a state or an owner asks beyond the model codes. Judged like every other rule: not
          answered is not known.
        </span>
        <Button kind="main" disabled={locked} onPress={add}>
          Add a rule
        </Button>
      </div>
      {data.ownRules.length === 0 ? (
        <EmptySheet>This job has no rules of its own yet.</EmptySheet>
      ) : (
        <table className="plain-table">
          <thead>
            <tr>
              <th scope="col">What is asked for</th>
              <th scope="col">Citation</th>
              <th scope="col">Question</th>
              <th scope="col">Who answers</th>
              <th scope="col">Wanted</th>
              <th scope="col">If not kept</th>
              <th scope="col">For</th>
              <th scope="col">
                <span className="for-ears">Deeds</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {data.ownRules.map((rule) => (
              <OwnRuleLine
                key={rule.record.id}
                rule={rule}
                locked={locked}
                onEdit={() => setEditing({ id: rule.record.id, fields: rule.record })}
              />
            ))}
          </tbody>
        </table>
      )}
      {editing !== null && <OwnRuleDialog editing={editing} onClose={() => setEditing(null)} />}
    </>
  )
}

/** For which openings a rule is, in words. */
export function scopeWords({ appliesTo, fact, factIs, arrangement }: Fields): string {
  switch (appliesTo) {
    case 'every opening':
      return 'every opening'
    case 'ways out':
      return `ways out by ${arrangement ?? '?'}`
    case 'openings where':
      return `openings where “${fact !== null && isFactKey(fact) ? facts[fact].question : (fact ?? '?')}” is ${factIs ?? '?'}`
  }
}

function OwnRuleLine({
  rule: { record, trouble },
  locked,
  onEdit,
}: {
  readonly rule: OwnRule
  readonly locked: boolean
  readonly onEdit: () => void
}) {
  const here = (): void => point({ form: 'own rule', id: record.id })
  const remove = (): void =>
    void makeChange({
      does: 'change records',
      name: `Remove the rule “${shortened(record.sentence)}”`,
      add: [],
      set: [],
      remove: [{ kind: 'localRule', id: record.id }],
    })
  return (
    <tr className={trouble === null ? '' : 'question'} onPointerEnter={here} onFocus={here}>
      <td className="question-words">
        {record.sentence}
        {trouble !== null && <span className="answer-problem">{trouble}</span>}
      </td>
      <td className="question-words">{record.citation}</td>
      <td className="question-words">{record.question}</td>
      <td>{record.answeredBy}</td>
      <td>{record.wanted}</td>
      <td>{record.severity}</td>
      <td className="question-words">{scopeWords(record)}</td>
      <td className="deeds">
        <Button kind="quiet" disabled={locked} label={`Change the rule: ${record.sentence}`} onPress={onEdit}>
          Change
        </Button>
        <Button kind="quiet" disabled={locked} label={`Remove the rule: ${record.sentence}`} onPress={remove}>
          Remove
        </Button>
      </td>
    </tr>
  )
}

const shortened = (text: string): string => (text.length > 60 ? `${text.slice(0, 60)}…` : text)

const scopes = ['every opening', 'openings where', 'ways out'] as const
const scopeLabels: Readonly<Record<(typeof scopes)[number], string>> = {
  'every opening': 'Every opening',
  'openings where': 'Openings where a fact is so',
  'ways out': 'Ways out of one arrangement',
}

function OwnRuleDialog({ editing, onClose }: { readonly editing: Editing; readonly onClose: () => void }) {
  const [fields, setFields] = useState<Fields>(editing.fields)
  const change = (to: Partial<Fields>): void => setFields({ ...fields, ...to })
  const { appliesTo, fact } = fields
  const read = readLocalRule({ id: asId(editing.id ?? 'new'), ...fields })
  const keep = async (): Promise<void> => {
    if (!read.ok) return
    const settled: Fields = {
      ...fields,
      fact: appliesTo === 'openings where' ? fact : null,
      factIs: appliesTo === 'openings where' ? fields.factIs : null,
      arrangement: appliesTo === 'ways out' ? fields.arrangement : null,
    }
    const name = `${editing.id === null ? 'Add' : 'Change'} the rule “${shortened(settled.sentence)}”`
    const { ...record } = settled
    const kept = await makeChange({
      does: 'change records',
      name,
      add: editing.id === null ? [{ kind: 'localRule', record: { ...record, id: 'new:rule' } }] : [],
      set: editing.id === null ? [] : [{ kind: 'localRule', id: editing.id, fields: withoutId(record) }],
      remove: [],
    })
    if (kept) onClose()
  }
  return (
    <Dialog
      title={editing.id === null ? 'A rule of the job’s own' : 'Change the rule'}
      open
      size="middle"
      holds
      onClose={onClose}
      actions={
        <>
          <Button onPress={onClose}>Leave it</Button>
          <Button kind="main" disabled={!read.ok} onPress={() => void keep()}>
            {editing.id === null ? 'Add the rule' : 'Keep'}
          </Button>
        </>
      }
    >
      <div className="dialog-form">
        <Field
          label="What is asked for"
          value={fields.sentence}
          lines={2}
          autoFocus
          help="In your own words: codes are copyrighted."
          onChange={(sentence) => change({ sentence })}
        />
        <Field
          label="Citation"
          value={fields.citation}
          help="The ordinance or amendment, its section and date."
          onChange={(citation) => change({ citation })}
        />
        <Field
          label="Question"
          value={fields.question}
          help="Answered with yes or no."
          onChange={(question) => change({ question })}
        />
        <div className="rule-choices">
          <Choice
            label="Who answers"
            value={fields.answeredBy}
            options={answerers.map((key) => ({ key, label: key }))}
            onChange={(answeredBy) => change({ answeredBy })}
          />
          <Choice
            label="Wanted answer"
            value={fields.wanted}
            options={(['yes', 'no'] as const).map((key) => ({ key, label: key }))}
            onChange={(wanted) => change({ wanted: wanted as Fields['wanted'] })}
          />
          <Choice
            label="If not kept"
            value={fields.severity}
            options={severities.map((key) => ({ key, label: severityWords[key] }))}
            onChange={(severity) => change({ severity })}
          />
        </div>
        <Choice
          label="For which openings"
          value={appliesTo}
          options={scopes.map((key) => ({ key, label: scopeLabels[key] }))}
          onChange={(to) => change({ appliesTo: to as Fields['appliesTo'] })}
        />
        {appliesTo === 'openings where' && (
          <>
            <Choice
              label="Fact"
              value={fact}
              options={factKeys.map((key) => ({ key, label: facts[key].question }))}
              onChange={(key) => change({ fact: key, factIs: null })}
            />
            <Field
              label="Is"
              value={fields.factIs ?? ''}
              help={
                fact !== null && isFactKey(fact)
                  ? `${expectedWords(facts[fact].answer)}`
                  : 'Choose a fact first.'
              }
              onChange={(factIs) => change({ factIs })}
            />
          </>
        )}
        {appliesTo === 'ways out' && (
          <Choice
            label="Way out by"
            value={fields.arrangement}
            options={arrangements.map((key) => ({ key, label: key }))}
            onChange={(arrangement) => change({ arrangement })}
          />
        )}
        {!read.ok && <p className="soft">Before it can be judged: {read.sentence}</p>}
      </div>
    </Dialog>
  )
}

function withoutId(record: Fields & { readonly id?: string }): Fields {
  const { id: _id, ...rest } = record
  return rest
}
