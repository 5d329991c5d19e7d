export interface SideEntry {
  readonly key: string
  readonly label: string
  /** A number of things, a share, the name of an issue. */
  readonly count?: string | number
  readonly current?: boolean
  readonly disabled?: boolean
}

export interface SideSection {
  readonly key: string
  readonly title?: string
  readonly entries: readonly SideEntry[]
}

export interface SideListProps {
  readonly sections: readonly SideSection[]
  readonly onGo: (entryKey: string, sectionKey: string) => void
}

/** The list of sheets and places at the left. */
export const SideList = ({ sections, onGo }: SideListProps) =>
  sections.map((section, index) => (
    <section key={section.key} className={index === 0 ? 'side-section first' : 'side-section'}>
      {section.title !== undefined && <h2 className="side-title">{section.title}</h2>}
      <ul aria-label={section.title ?? 'Sheets'}>
        {section.entries.map((entry) => (
          <li key={entry.key}>
            <button
              type="button"
              className="side-entry"
              aria-current={
                entry.current === true ? (section.title === undefined ? 'page' : 'true') : undefined
              }
              disabled={entry.disabled === true}
              onClick={() => onGo(entry.key, section.key)}
            >
              <span className="side-label">{entry.label}</span>
              {entry.count !== undefined && <small> {entry.count}</small>}
            </button>
          </li>
        ))}
      </ul>
    </section>
  ))
