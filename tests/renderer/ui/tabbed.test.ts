import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { readTabbed, writeMarkup, writeTabbed } from '../../../renderer/ui/table/tabbed.ts'

// Quoting: RFC 4180 section 2, rules 5 to 7, with tabs in place of commas, as spreadsheets write clipboard text.
const readings: readonly { readonly what: string; readonly text: string; readonly cells: string[][] }[] = [
  { what: 'nothing', text: '', cells: [] },
  { what: 'one cell', text: '101', cells: [['101']] },
  { what: 'a last line break is no row', text: '101\tLobby\r\n', cells: [['101', 'Lobby']] },
  { what: 'rows by line feed alone', text: '1\n2', cells: [['1'], ['2']] },
  { what: 'an empty row inside', text: '1\n\n2\n', cells: [['1'], [''], ['2']] },
  { what: 'an empty last cell', text: '1\t', cells: [['1', '']] },
  { what: 'a line break in quotes', text: '"a\r\nb"\tc\r\n', cells: [['a\r\nb', 'c']] },
  { what: 'a tab in quotes', text: '"a\tb"', cells: [['a\tb']] },
  { what: 'quotes doubled', text: '"6\'-0"" x\n"', cells: [['6\'-0" x\n']] },
  { what: 'inches are no quotes', text: '6\'-0"\t3"', cells: [['6\'-0"', '3"']] },
  { what: 'a quoted word at the start of plain text', text: '"A" lobby\tx', cells: [['"A" lobby', 'x']] },
  { what: 'a quote that never closes', text: '"A\tx', cells: [['"A', 'x']] },
  { what: 'one empty cell', text: '\r\n', cells: [['']] },
]

describe('reading tab-separated text', () => {
  it.each(readings)('$what', ({ text, cells }) => {
    expect(readTabbed(text)).toEqual(cells)
  })
})

describe('writing tab-separated text', () => {
  it('is read back as it was, whatever stands in the cells', () => {
    const cell = fc.string({ unit: fc.constantFrom('a', '"', '\t', '\n', '\r', ' ', '7', '×') })
    const width = fc.integer({ min: 1, max: 4 })
    const table = width.chain((cells) =>
      fc.array(fc.array(cell, { minLength: cells, maxLength: cells }), { minLength: 1, maxLength: 5 }),
    )
    fc.assert(
      fc.property(table, (rows) => {
        // A last row of one empty cell is a last line break to every reader.
        fc.pre(rows.length === 1 || rows.at(-1)?.join('') !== '' || (rows[0]?.length ?? 0) > 1)
        expect(readTabbed(writeTabbed(rows))).toEqual(rows)
      }),
      { numRuns: 500 },
    )
  })
  it('declares marked-up cells as text and lets no markup through', () => {
    expect(writeMarkup([['3-4', '<b>&"']])).toBe(
      `<table><tr><td style="mso-number-format:'\\@'">3-4</td>` +
        `<td style="mso-number-format:'\\@'">&lt;b&gt;&amp;&quot;</td></tr></table>`,
    )
  })
})
