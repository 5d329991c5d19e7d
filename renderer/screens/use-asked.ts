import { useEffect, useState } from 'react'
import type { CallName, Given, LintelbookContract, Out } from '../../core/contract/index.ts'
import { ask } from '../bridge.ts'
import { goTo } from './place.ts'
import { stopFor, useWindow } from './window-state.ts'

type Name = CallName<LintelbookContract>

/** What the host answers, asked anew with every change of the job. The old answer stays until the new one is there. */
export function useAsked<Call extends Name>(
  name: Call,
  given: Given<LintelbookContract, Call>,
): Out<LintelbookContract, Call> | null {
  const revision = useWindow((state) => state.revision)
  const [value, setValue] = useState<Out<LintelbookContract, Call> | null>(null)
  const asked = JSON.stringify(given)
  useEffect(() => {
    let wanted = true
    void ask(name, JSON.parse(asked) as Given<LintelbookContract, Call>).then((answer) => {
      if (!wanted) return
      if (answer.ok) setValue(answer.value)
      else if (answer.problem.code === 'gone') goTo({ sheet: 'schedule' })
      else stopFor(answer.problem)
    })
    return () => {
      wanted = false
    }
  }, [name, asked, revision])
  return value
}
