import { useEffect, useState } from 'react'
import type { LibraryState } from '../../../core/contract/index.ts'
import { ask } from '../../bridge.ts'
import { stopFor } from '../window-state.ts'

const lookAgainMilliseconds = 400

/** Begins to look through the folders, and tells how far that is until it is done. */
export function useLibrary(): readonly [LibraryState | null, (state: LibraryState) => void] {
  const [state, setState] = useState<LibraryState | null>(null)
  useEffect(() => {
    void ask('library.refresh', {}).then((answer) =>
      answer.ok ? setState(answer.value) : stopFor(answer.problem),
    )
  }, [])
  const looking = state?.refreshing === true
  useEffect(() => {
    if (!looking) return undefined
    const timer = setInterval(() => {
      void ask('library.read', {}).then((answer) => {
        if (answer.ok) setState(answer.value)
      })
    }, lookAgainMilliseconds)
    return () => clearInterval(timer)
  }, [looking])
  return [state, setState]
}
