import { useRef, type KeyboardEvent, type ReactNode } from 'react'

export interface WindowFrameProps {
  readonly programName: string
  /** Name of the open job, then short facts about it. */
  readonly jobName?: string
  readonly jobFacts?: readonly string[]
  readonly menus?: ReactNode
  /** At the right of the top bar: the way to find. */
  readonly find?: ReactNode
  readonly side: ReactNode
  /** Strips of notice above the sheet. */
  readonly notices?: ReactNode
  readonly children: ReactNode
  readonly margin?: ReactNode
  readonly footStart?: ReactNode
  readonly footEnd?: ReactNode
}

const FOCUSABLE = 'a[href], button:not([disabled]), input, select, textarea, [tabindex="0"]'

/** Where one lands in a part: its table, the entry one is at, itself, or the first thing that takes the focus. */
const landing = (region: HTMLElement): HTMLElement | null =>
  region.querySelector<HTMLElement>('[role=grid], [role=treegrid]') ??
  region.querySelector<HTMLElement>('button[aria-current]') ??
  (region.matches(FOCUSABLE) ? region : region.querySelector<HTMLElement>(FOCUSABLE))

/** F6 goes round the parts of the window, Shift+F6 back. */
const goRound = (event: KeyboardEvent, frame: HTMLElement | null): void => {
  if (event.key !== 'F6' || frame === null) return
  const regions = [...frame.querySelectorAll<HTMLElement>('[data-region]')].filter(
    (region) => landing(region) !== null,
  )
  if (regions.length === 0) return
  const at = regions.findIndex((region) => region.contains(document.activeElement))
  const step = event.shiftKey ? -1 : 1
  const next = regions[(at + step + regions.length) % regions.length]
  event.preventDefault()
  if (next !== undefined) landing(next)?.focus()
}

/** The window: top bar, list, sheet, margin, foot. Narrow windows put the margin under the sheet. */
export const WindowFrame = (props: WindowFrameProps) => {
  const frame = useRef<HTMLDivElement>(null)
  return (
    <div
      ref={frame}
      className={props.margin === undefined ? 'frame no-margin' : 'frame'}
      onKeyDown={(event) => goRound(event, frame.current)}
    >
      <header className="frame-top" data-region="top">
        <b className="program-name">{props.programName}</b>
        {props.jobName !== undefined && <span className="job-name">{props.jobName}</span>}
        {props.jobFacts?.map((fact) => (
          <span key={fact} className="job-fact">
            {fact}
          </span>
        ))}
        {props.menus}
        <div className="frame-find">{props.find}</div>
      </header>
      <nav className="frame-side" aria-label="Sheets and places" data-region="side">
        {props.side}
      </nav>
      <main className="frame-sheet" data-region="sheet">
        {props.notices}
        {props.children}
      </main>
      {props.margin !== undefined && (
        // Scrolls, so it must take the focus.
        <aside className="frame-margin" aria-label="Margin" tabIndex={0} data-region="margin">
          {props.margin}
        </aside>
      )}
      <footer className="frame-foot">
        <span>{props.footStart}</span>
        <span className="foot-end">{props.footEnd}</span>
      </footer>
    </div>
  )
}

export interface SheetHeadingProps {
  readonly title: string
  /** Softer, after the title: how many, what needs an answer. */
  readonly facts?: ReactNode
  readonly actions?: ReactNode
  readonly level?: 1 | 2
}

export const SheetHeading = ({ title, facts, actions, level = 1 }: SheetHeadingProps) => {
  const Heading = level === 1 ? 'h1' : 'h2'
  return (
    <div className="sheet-heading">
      <Heading>{title}</Heading>
      {facts !== undefined && <span className="sheet-facts">{facts}</span>}
      {actions !== undefined && <span className="sheet-actions">{actions}</span>}
    </div>
  )
}

export interface EmptySheetProps {
  /** What to do first, in a sentence. */
  readonly children: ReactNode
  readonly actions?: ReactNode
}

export const EmptySheet = ({ children, actions }: EmptySheetProps) => (
  <div className="empty-sheet">
    <p>{children}</p>
    {actions}
  </div>
)
