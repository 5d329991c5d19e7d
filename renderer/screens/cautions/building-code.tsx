// The code in force, asked for on the job's page and above the cautions.
import { Choice } from '../../ui/index.ts'
import { makeChange, type OpenJob } from '../window-state.ts'

const notSaid = 'not said'
const codes = ['IBC 2018', 'IBC 2021', 'IBC 2024', 'NFPA 101 2018', 'NFPA 101 2021', 'NFPA 101 2024']

/** False where a code was typed, or taken in, that no rule here knows. */
export const isKnownCode = (code: string | null): boolean => code === null || codes.includes(code)

export function BuildingCodeChoice({ job }: { readonly job: OpenJob }) {
  const { buildingCode } = job.frame.job
  const all = new Set([...codes, ...(buildingCode === null ? [] : [buildingCode])])
  return (
    <Choice
      label="Building code"
      disabled={job.state.readOnly !== null}
      value={buildingCode ?? notSaid}
      options={[{ key: notSaid, label: 'Not said yet' }, ...[...all].map((key) => ({ key, label: key }))]}
      onChange={(key) =>
        void makeChange({ does: 'set job', fields: { buildingCode: key === notSaid ? null : key } })
      }
    />
  )
}
