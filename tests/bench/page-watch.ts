// Runs inside the page: stamps of what a person sees. Sent to Chromium as source, so each function stands alone.

export interface Watch {
  /** Epoch milliseconds at which the first rows had been painted. */
  firstRows: number | null
  /** From the Enter key to the frame with the typed text. */
  toPaint: number[]
  /** From the Enter key to the frame with the row as the job now has it. */
  toKept: number[]
  blank: { longest: number; frames: number; blankFrames: number; running: boolean }
}

declare global {
  interface Window {
    benchWatch: Watch
  }
}

/** Before any script of the page. */
export function watchFirstRows(): void {
  window.benchWatch = {
    firstRows: null,
    toPaint: [],
    toKept: [],
    blank: { longest: 0, frames: 0, blankFrames: 0, running: false },
  }
  const look = (): void => {
    if (document.querySelector('.table-row .cell-text') === null) {
      requestAnimationFrame(look)
      return
    }
    const channel = new MessageChannel()
    channel.port1.addEventListener('message', () => (window.benchWatch.firstRows = Date.now()), {
      once: true,
    })
    channel.port1.start()
    channel.port2.postMessage(null)
  }
  requestAnimationFrame(look)
}

/** Times every Enter in a field of the table. */
export function watchEdits(): void {
  const watch = window.benchWatch
  /** Runs when the frame that is being made has been painted. */
  const afterPaint = (then: () => void): void => {
    const channel = new MessageChannel()
    channel.port1.addEventListener('message', then, { once: true })
    channel.port1.start()
    channel.port2.postMessage(null)
  }
  window.addEventListener(
    'keydown',
    (event) => {
      if (event.key !== 'Enter' || !(event.target instanceof HTMLInputElement)) return
      const start = performance.now()
      let first = true
      const look = (): void => {
        if (first) afterPaint(() => watch.toPaint.push(performance.now() - start))
        first = false
        if (document.querySelector('.cell.waiting') === null)
          afterPaint(() => watch.toKept.push(performance.now() - start))
        else requestAnimationFrame(look)
      }
      requestAnimationFrame(look)
    },
    true,
  )
}

/**
 * Watches for table without rows. A far scroll shows its empty place at once, from the browser's own thread, so a blank
 * lasts from the scroll to the end of the frame that draws the rows. `step` of 0 leaves the scrolling to others.
 */
export function watchBlank({ step, jump }: { readonly step: number; readonly jump: boolean }): void {
  const table = document.querySelector('.table')
  const heading = document.querySelector('.table-heading')
  if (table === null || heading === null) throw new Error('There is no table')
  const watch = { longest: 0, frames: 0, blankFrames: 0, running: true }
  window.benchWatch.blank = watch
  let since: number | null = null
  let direction = 1
  const covered = (): boolean => {
    const top = heading.getBoundingClientRect().bottom
    const bottom = Math.min(
      table.getBoundingClientRect().top + table.clientHeight,
      document.querySelector('.table-body')?.getBoundingClientRect().bottom ?? 0,
    )
    const spans = [...document.querySelectorAll('.table-row, .table-group')]
      .map((row) => row.getBoundingClientRect())
      .filter((box) => box.bottom > top && box.top < bottom)
      .toSorted((one, other) => one.top - other.top)
    let reached = top
    for (const span of spans) if (span.top <= reached + 1) reached = Math.max(reached, span.bottom)
    return reached >= bottom - 1
  }
  const note = (): void => {
    const now = performance.now()
    const isBlank = !covered()
    if (since !== null) watch.longest = Math.max(watch.longest, now - since)
    since = isBlank ? (since ?? now) : null
  }
  const scroll = (): void => {
    const end = table.scrollHeight - table.clientHeight
    if (jump && watch.frames % 6 === 0) table.scrollTop = ((watch.frames * 7919) % 1000) * (end / 1000)
    else if (step > 0) {
      table.scrollTop += step * direction
      if (table.scrollTop >= end - 1 || table.scrollTop <= 0) direction = -direction
    }
  }
  const look = (): void => {
    if (!watch.running) return
    const channel = new MessageChannel()
    channel.port1.addEventListener(
      'message',
      () => {
        watch.frames += 1
        note()
        if (step > 0 || jump) scroll()
        note()
        if (since !== null) watch.blankFrames += 1
        requestAnimationFrame(look)
      },
      { once: true },
    )
    channel.port1.start()
    channel.port2.postMessage(null)
  }
  requestAnimationFrame(look)
}

export function stopBlank(): Omit<Watch['blank'], 'running'> {
  const { blank } = window.benchWatch
  blank.running = false
  return { longest: blank.longest, frames: blank.frames, blankFrames: blank.blankFrames }
}
