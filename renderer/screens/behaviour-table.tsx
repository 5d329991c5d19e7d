import { conditionWords, type GateLine } from '../../core/documents/index.ts'
import { lineKey, type LineChange } from '../../core/parts/index.ts'
import { gateMark } from '../drawing/index.ts'
import { DrawingView } from '../ui/index.ts'

/** Every condition with its mark and its reasons. What changed against before is said in its row. */
export function BehaviourTable({
  lines,
  changes,
  onPoint,
}: {
  readonly lines: readonly GateLine[]
  readonly changes?: ReadonlyMap<string, LineChange>
  readonly onPoint?: (line: GateLine) => void
}) {
  return (
    <table className="plain-table behaviour">
      <thead>
        <tr>
          <th scope="col">When</th>
          <th scope="col">In | Out</th>
          <th scope="col">Latch</th>
          <th scope="col">Because</th>
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => {
          const change = changes?.get(lineKey(line))
          return (
            <tr
              key={lineKey(line)}
              className={change === undefined ? '' : 'question'}
              onMouseEnter={() => onPoint?.(line)}
            >
              <td className="when">
                <b>{conditionWords[line.condition]}</b>
                {line.of === null ? '' : `, ${line.of}`}
              </td>
              <td>
                <DrawingView drawing={gateMark(line.gate)} />
              </td>
              <td className="when">{line.latched}</td>
              <td className="because">
                {change !== undefined && <strong className="own">{change.sentences.join(' ')} </strong>}
                {line.because.join(' ')}
              </td>
            </tr>
          )
        })}
      </tbody>
    </table>
  )
}
