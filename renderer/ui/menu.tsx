import { Fragment, useRef, useState, type KeyboardEvent } from 'react'
import {
  Button,
  Header,
  Keyboard,
  Menu,
  MenuItem,
  MenuSection as AriaMenuSection,
  MenuTrigger,
  Popover,
  Separator,
  SubmenuTrigger,
  Text,
  Toolbar,
} from 'react-aria-components'
import type { MenuAction, MenuEntry, MenuSection } from './menu-entries.ts'

const ActionLine = ({ action }: { readonly action: MenuAction }) => (
  <MenuItem
    id={action.id}
    textValue={action.label}
    isDisabled={action.disabled === true}
    onAction={action.onAction}
    className="menu-line"
  >
    <span className="menu-tick" aria-hidden="true">
      {action.checked === true && (
        <svg viewBox="0 0 10 10">
          <path d="M1 5.5 L4 8.5 L9 1.5" />
        </svg>
      )}
    </span>
    <Text slot="label">{action.label}</Text>
    {action.key !== undefined && <Keyboard className="menu-key">{action.key}</Keyboard>}
  </MenuItem>
)

const SectionLines = ({ section }: { readonly section: MenuSection }) => {
  const chosen = section.entries.filter((entry) => entry.checked === true).map((entry) => entry.id)
  const chooses = section.entries.some((entry) => entry.checked !== undefined)
  return (
    <AriaMenuSection
      // Sections and entries share one list of ids; two alike would lose what follows.
      id={`section ${section.id}`}
      {...(section.title === undefined ? { 'aria-label': section.entries[0]?.label ?? section.id } : {})}
      {...(chooses ? { selectionMode: 'multiple' as const, selectedKeys: chosen } : {})}
    >
      {section.title !== undefined && <Header className="menu-title">{section.title}</Header>}
      {section.entries.map((entry) => (
        <ActionLine key={entry.id} action={entry} />
      ))}
    </AriaMenuSection>
  )
}

const Lines = ({ entries }: { readonly entries: readonly MenuEntry[] }) =>
  entries.map((entry, index) => (
    <Fragment key={entry.id}>
      {index > 0 && (entry.form === 'section' || entries[index - 1]?.form === 'section') && (
        <Separator className="menu-rule" />
      )}
      <Line entry={entry} />
    </Fragment>
  ))

const Line = ({ entry }: { readonly entry: MenuEntry }) => {
  if (entry.form === 'action') return <ActionLine action={entry} />
  if (entry.form === 'section') return <SectionLines section={entry} />
  return (
    <SubmenuTrigger>
      <MenuItem id={entry.id} textValue={entry.label} className="menu-line">
        <span className="menu-tick" />
        <Text slot="label">{entry.label}</Text>
        <svg viewBox="0 0 8 8" className="menu-more" aria-hidden="true">
          <path d="M2 0 L7 4 L2 8 Z" />
        </svg>
      </MenuItem>
      <Popover className="menu-popover" data-submenu="">
        <Menu aria-label={entry.label} className="menu">
          <Lines entries={entry.entries} />
        </Menu>
      </Popover>
    </SubmenuTrigger>
  )
}

export interface MenuBarMenu {
  readonly id: string
  readonly label: string
  readonly entries: readonly MenuEntry[]
}

export interface MenuBarProps {
  readonly label: string
  readonly menus: readonly MenuBarMenu[]
}

/** A row of menus. With one open, Left and Right go to its neighbours. */
export const MenuBar = ({ label, menus }: MenuBarProps) => {
  const [open, setOpen] = useState<string | null>(null)
  const turn = (event: KeyboardEvent): void => {
    const by = event.key === 'ArrowRight' ? 1 : event.key === 'ArrowLeft' ? -1 : 0
    const target = event.target as HTMLElement
    const inSubmenu = target.closest('[data-submenu]') !== null
    const opensSubmenu = by === 1 && target.getAttribute('aria-haspopup') !== null
    if (open === null || by === 0 || inSubmenu || opensSubmenu) return
    const at = menus.findIndex((menu) => menu.id === open)
    event.preventDefault()
    event.stopPropagation()
    setOpen(menus[(at + by + menus.length) % menus.length]?.id ?? null)
  }
  return (
    <div className="menu-bar-box" onKeyDownCapture={turn}>
      <Toolbar aria-label={label} className="menu-bar">
        {menus.map((menu) => (
          <MenuTrigger
            key={menu.id}
            isOpen={open === menu.id}
            onOpenChange={(opens) => setOpen((now) => (opens ? menu.id : now === menu.id ? null : now))}
          >
            <Button className="menu-opener">{menu.label}</Button>
            <Popover className="menu-popover" placement="bottom start" offset={2}>
              <Menu aria-label={menu.label} className="menu">
                <Lines entries={menu.entries} />
              </Menu>
            </Popover>
          </MenuTrigger>
        ))}
      </Toolbar>
    </div>
  )
}

export interface ContextMenuProps {
  readonly label: string
  /** CSS pixels of the window. Null: closed. */
  readonly at: { readonly x: number; readonly y: number } | null
  readonly entries: readonly MenuEntry[]
  readonly onClose: () => void
}

/** A menu at a point, for a right click or the menu key. */
export const ContextMenu = ({ label, at, entries, onClose }: ContextMenuProps) => {
  const point = useRef<HTMLSpanElement>(null)
  return (
    <>
      <span
        ref={point}
        className="menu-point"
        style={at === null ? { display: 'none' } : { left: at.x, top: at.y }}
      />
      <Popover
        triggerRef={point}
        isOpen={at !== null}
        onOpenChange={(opens) => {
          if (!opens) onClose()
        }}
        placement="bottom start"
        offset={0}
        className="menu-popover"
      >
        <Menu aria-label={label} className="menu" autoFocus="first" onClose={onClose}>
          <Lines entries={entries} />
        </Menu>
      </Popover>
    </>
  )
}
