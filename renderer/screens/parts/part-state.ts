// What the cursor is on, so that the margin can explain it; and how the page asks for its changes.
import { useEffect } from 'react'
import { create } from 'zustand'
import type { Answer, ChangeOutcome } from '../../../core/contract/index.ts'
import type { RecordKind } from '../../../core/job/index.ts'
import type { Command } from '../../../core/schedule/index.ts'
import { makeChange, stopFor, takeOutcome, tell } from '../window-state.ts'

export interface Explained {
  readonly title: string
  readonly sentences: readonly string[]
}

export const useExplained = create<{ readonly explained: Explained | null }>()(() => ({ explained: null }))
export const explain = (explained: Explained | null): void => useExplained.setState({ explained })

/** The margin forgets what a page explained when the page is left. */
export const useExplaining = (): void => useEffect(() => () => explain(null), [])

/** Spread on what the margin explains when the cursor or the focus is on it. */
export const explains = (title: string, ...sentences: readonly string[]) => {
  const point = (): void => explain({ title, sentences })
  return { onMouseEnter: point, onFocus: point }
}

type RecordsCommand = Extract<Command, { does: 'change records' }>
export type Fields = RecordsCommand['set'][number]['fields']

const changes = (name: string, some: Partial<RecordsCommand>): Promise<boolean> =>
  makeChange({ does: 'change records', name, add: [], set: [], remove: [], ...some })

/** Each as one change under this name. */
export const setRecord = (name: string, kind: RecordKind, id: string, fields: Fields): Promise<boolean> =>
  changes(name, { set: [{ kind, id, fields }] })

export const addRecords = (
  name: string,
  ...add: readonly { readonly kind: RecordKind; readonly record: Fields }[]
): Promise<boolean> =>
  changes(name, {
    add: add.map(({ kind, record }, index) => ({ kind, record: { id: `new:${index + 1}`, ...record } })),
  })

export const removeRecord = (name: string, kind: RecordKind, id: string): Promise<boolean> =>
  changes(name, { remove: [{ kind, id }] })

/** Takes what a call changed into the window, or says why it was refused. */
export function settled(answer: Answer<ChangeOutcome>): boolean {
  if (!answer.ok) {
    stopFor(answer.problem)
    return false
  }
  takeOutcome(answer.value)
  tell(null)
  return true
}

/** The place after the last of a list. */
export const nextPosition = (list: readonly { readonly position: number }[]): number =>
  Math.max(-1, ...list.map(({ position }) => position)) + 1
