import { useState } from 'react'
import {
  chapterHelp,
  chapterKeys,
  chaptersOfPart,
  chapterTitles,
  readChapters,
  type ChapterKey,
} from '../../../core/documents/index.ts'
import { compareMarks } from '../../../core/job/index.ts'
import { Button, Checkbox, Choice, SheetHeading } from '../../ui/index.ts'
import { prefer, useWindow, type OpenJob } from '../window-state.ts'
import { begin } from './handover-state.ts'

type Form = 'handover' | 'schedule'
type Scope = 'job' | `level ${string}` | `opening ${string}`

/** Which chapters, in which order, of what; the choice is kept for the next issue too. */
export function BinderView({ job }: { readonly job: OpenJob }) {
  const kept = useWindow((state) => state.preferences.binder)
  const [form, setForm] = useState<Form>('handover')
  const [scope, setScope] = useState<Scope>('job')
  const [copies, setCopies] = useState<'archive reading' | 'archive' | 'reading'>('reading')
  const chosen = readChapters(kept[form], form)
  const choose = (chapters: readonly ChapterKey[]): void =>
    prefer({ binder: { ...kept, [form]: chapters.length === 0 ? null : [...chapters] } })
  const rows = [...chosen, ...chapterKeys.filter((key) => !chosen.includes(key))]
  const move = (key: ChapterKey, by: -1 | 1): void => {
    const at = chosen.indexOf(key)
    const next = [...chosen]
    next.splice(at, 1)
    next.splice(at + by, 0, key)
    choose(next)
  }
  const whole = scope === 'job'
  const print = (): void => {
    const [what, ...rest] = scope.split(' ')
    const id = rest.join(' ')
    void begin({
      does: 'print',
      of: what === 'level' ? { levelId: id } : what === 'opening' ? { openingId: id } : { job: true },
      chapters: [...chosen],
      copies: copies.split(' ') as ('archive' | 'reading')[],
    })
  }
  const openings = [...job.rows.values()].toSorted((one, other) => compareMarks(one.mark, other.mark))
  return (
    <>
      <div className="filter-bar">
        <Choice
          label="Chapters of a"
          options={[
            { key: 'handover', label: 'Handover issue' },
            { key: 'schedule', label: 'Schedule issue' },
          ]}
          value={form}
          onChange={(key) => setForm(key as Form)}
        />
        <label className="scope-choice">
          Print{' '}
          <select
            className="plain-select"
            value={scope}
            onChange={(event) => setScope(event.currentTarget.value as Scope)}
          >
            <option value="job">the whole job</option>
            <optgroup label="One level">
              {job.frame.levels.map(({ id, name }) => (
                <option key={id} value={`level ${id}`}>
                  {name}
                </option>
              ))}
            </optgroup>
            <optgroup label="One opening">
              {openings.map(({ id, mark, where }) => (
                <option key={id} value={`opening ${id}`}>
                  {mark} {where}
                </option>
              ))}
            </optgroup>
          </select>
        </label>
        <Choice
          label="Copy"
          options={[
            { key: 'reading', label: 'Reading copy' },
            { key: 'archive', label: 'Archive copy' },
            { key: 'archive reading', label: 'Both copies' },
          ]}
          value={copies}
          onChange={(key) => setCopies(key as typeof copies)}
        />
        <Button onPress={print}>Print without sealing</Button>
      </div>
      <SheetHeading
        level={2}
        title="Chapters"
        facts={
          whole ? `${chosen.length} of ${chapterKeys.length}` : 'of a part of the job, only some are printed'
        }
        actions={
          <Button kind="quiet" onPress={() => choose([])}>
            Usual chapters
          </Button>
        }
      />
      <ol className="chapter-list">
        {rows.map((key) => {
          const at = chosen.indexOf(key)
          const left = !whole && !chaptersOfPart.includes(key)
          return (
            <li key={key} className={left ? 'soft' : ''}>
              <Checkbox
                checked={at >= 0}
                onChange={(checked) =>
                  choose(checked ? [...chosen, key] : chosen.filter((each) => each !== key))
                }
              >
                {chapterTitles[key]}
              </Checkbox>
              <span className="soft chapter-help">
                {left ? 'Left out where only a part is printed.' : chapterHelp[key]}
              </span>
              <span className="chapter-moves">
                <Button
                  kind="quiet"
                  label={`Move ${chapterTitles[key]} up`}
                  disabled={at <= 0}
                  onPress={() => move(key, -1)}
                >
                  Up
                </Button>
                <Button
                  kind="quiet"
                  label={`Move ${chapterTitles[key]} down`}
                  disabled={at < 0 || at === chosen.length - 1}
                  onPress={() => move(key, 1)}
                >
                  Down
                </Button>
              </span>
            </li>
          )
        })}
      </ol>
    </>
  )
}
