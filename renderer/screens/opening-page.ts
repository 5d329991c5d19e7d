import { useEffect, useState } from 'react'
import type { OpeningPage } from '../../core/contract/index.ts'
import { ask } from '../bridge.ts'
import { goTo } from './place.ts'
import { stopFor, useWindow } from './window-state.ts'

/** What the host says of one opening, asked anew with every change. The old page stays until the new one is there. */
export function useOpeningPage(openingId: string): OpeningPage | null {
  const revision = useWindow((state) => state.revision)
  const [page, setPage] = useState<OpeningPage | null>(null)
  useEffect(() => {
    let wanted = true
    void ask('opening.read', { openingId }).then((answer) => {
      if (!wanted) return
      if (answer.ok) setPage(answer.value)
      else if (answer.problem.code === 'gone') goTo({ sheet: 'schedule' })
      else stopFor(answer.problem)
    })
    return () => {
      wanted = false
    }
  }, [openingId, revision])
  return page
}
