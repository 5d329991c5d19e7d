import { Button, Progress } from '../../ui/index.ts'
import { keepMade, putAway, stopBinder, useHandover } from './handover-state.ts'
import { bytesWords } from './words.ts'

/** How far the binder is, and its files when it is done. */
export function ProgressStrip() {
  const progress = useHandover((state) => state.progress)
  if (progress === null || progress.state === 'stopped' || progress.state === 'failed') return null
  const { jobId, title, words, pagesDone, share, state, made } = progress
  if (state === 'under way')
    return (
      <div className="binder-strip">
        <Progress label={`${title}: ${words}`} share={share} text={`page ${pagesDone}`} />
        <Button onPress={() => void stopBinder(jobId)}>Stop</Button>
      </div>
    )
  return (
    <section className="binder-strip done" aria-label="Files of the binder">
      <ul>
        {made.map(({ fileName, pages, byteCount }, index) => (
          <li key={fileName}>
            <button type="button" className="link" onClick={() => void keepMade(jobId, index)}>
              {fileName}
            </button>{' '}
            <span className="soft">
              {pages === null ? '' : `${pages} pages, `}
              {bytesWords(byteCount)}
            </span>
          </li>
        ))}
      </ul>
      <Button kind="quiet" onPress={putAway}>
        Put away
      </Button>
    </section>
  )
}
