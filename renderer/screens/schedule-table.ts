// The schedule's table as menus reach it; null while another sheet is in view.
import { createRef } from 'react'
import type { TableHandle } from '../ui/index.ts'

export const scheduleTable = createRef<TableHandle>()
