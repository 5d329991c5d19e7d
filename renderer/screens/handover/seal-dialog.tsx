import { useState } from 'react'
import { readChapters } from '../../../core/documents/index.ts'
import { Button, Choice, Dialog, Field } from '../../ui/index.ts'
import { useWindow } from '../window-state.ts'
import { begin } from './handover-state.ts'

type Form = 'handover' | 'schedule'
const forms = [
  { key: 'handover', label: 'Handover issue, for closeout' },
  { key: 'schedule', label: 'Schedule issue, for coordination' },
]

/** Names the issue and seals it; asks first where something failed or can trap someone. */
export function SealDialog({
  names,
  onClose,
}: {
  readonly names: Readonly<Record<Form, string>>
  readonly onClose: () => void
}) {
  const chosen = useWindow((state) => state.preferences.binder)
  const [form, setForm] = useState<Form>('handover')
  const [name, setName] = useState<string | null>(null)
  const [notes, setNotes] = useState('')
  const [asks, setAsks] = useState<readonly string[] | null>(null)
  const called = (name ?? names[form]).trim()
  const seal = async (evenSo: boolean): Promise<void> => {
    const first = await begin({
      does: 'seal',
      form,
      name: called,
      notes: notes.trim() === '' ? null : notes.trim(),
      chapters: [...readChapters(chosen[form], form)],
      evenSo,
    })
    if (first === null) onClose()
    else setAsks(first)
  }
  if (asks !== null)
    return (
      <Dialog
        title="Seal it even so?"
        open
        onClose={onClose}
        holds
        actions={
          <>
            <Button autoFocus onPress={onClose}>
              Do not seal
            </Button>
            <Button kind="danger" onPress={() => void seal(true)}>
              Seal even so
            </Button>
          </>
        }
      >
        <ul className="seal-asks">
          {asks.map((each) => (
            <li key={each}>{each}</li>
          ))}
        </ul>
        <p>The binder says this on its cover and in the chapter of what was open.</p>
      </Dialog>
    )
  return (
    <Dialog
      title="Seal an issue"
      open
      onClose={onClose}
      actions={
        <>
          <Button onPress={onClose}>Cancel</Button>
          <Button kind="main" disabled={called === ''} onPress={() => void seal(false)}>
            Seal
          </Button>
        </>
      }
    >
      <Choice label="What it is for" options={forms} value={form} onChange={(key) => setForm(key as Form)} />
      <Field label="Name" value={name ?? names[form]} onChange={setName} />
      <Field label="Notes" value={notes} onChange={setNotes} lines={2} />
      <p className="soft">
        The job as it is now, what was worked out, the binder in two copies, the open workbook and the
        calendar are kept together in the job file.
      </p>
    </Dialog>
  )
}
