import { cobieNumberColumns, type CobieWorkbook } from '../../core/exchange/index.ts'
import { writeWorkbook } from './workbook-writer.ts'

const WIDEST = 40
const NARROWEST = 12

/** Writes a COBie workbook: every sheet, also the empty ones, for all must be there. Numbers are kept as numbers. */
export function writeCobieWorkbook({ sheets }: CobieWorkbook, writtenAt?: Date): Promise<Uint8Array> {
  return writeWorkbook(
    sheets.map(({ name, headings, rows }) => ({
      name,
      columns: headings.map((heading, column) => ({
        heading,
        width: Math.min(
          WIDEST,
          rows
            .slice(0, 200)
            .reduce(
              (widest, row) => Math.max(widest, String(row[column] ?? '').length),
              Math.max(NARROWEST, heading.length + 2),
            ),
        ),
        form: cobieNumberColumns.has(heading) ? ('number' as const) : ('text' as const),
      })),
      rows,
      frozenColumns: name === 'PickLists' ? 0 : 1,
      filter: false,
    })),
    writtenAt,
  )
}
