/** One line of a menu. `key` tells the key that does the same, as people write it: Ctrl+D. It is shown, not bound. */
export interface MenuAction {
  readonly form: 'action'
  readonly id: string
  readonly label: string
  readonly key?: string
  readonly disabled?: boolean
  /** Present: the line is a choice that is on or off. */
  readonly checked?: boolean
  readonly onAction: () => void
}

export interface MenuSection {
  readonly form: 'section'
  readonly id: string
  /** Shown above its entries when given. */
  readonly title?: string
  readonly entries: readonly MenuAction[]
}

export interface SubMenu {
  readonly form: 'menu'
  readonly id: string
  readonly label: string
  readonly entries: readonly MenuEntry[]
}

export type MenuEntry = MenuAction | MenuSection | SubMenu
