// Tab-separated text as spreadsheets put it on the clipboard: rows end in CR LF or LF, a cell that holds a tab,
// a line break or a leading quote stands in quotes, quotes inside it doubled.

/** Where a quoted cell that opens at `start` ends (the place after its closing quote), or null when it is no quoted cell. */
const closingQuote = (text: string, start: number): number | null => {
  let at = start + 1
  for (;;) {
    const quote = text.indexOf('"', at)
    if (quote < 0) return null
    if (text[quote + 1] === '"') {
      at = quote + 2
      continue
    }
    const next = text[quote + 1]
    // A cell such as "A" lobby opens with a quote and is plain text: some spreadsheets leave it as it is.
    return next === undefined || next === '\t' || next === '\n' || next === '\r' ? quote + 1 : null
  }
}

const plainEnd = (text: string, start: number): number => {
  let at = start
  while (at < text.length && text[at] !== '\t' && text[at] !== '\n' && text[at] !== '\r') at += 1
  return at
}

/** Rows of cells from clipboard text. The line break after the last row is no row. Empty text is no rows. */
export const readTabbed = (text: string): string[][] => {
  if (text === '') return []
  const rows: string[][] = []
  let row: string[] = []
  let at = 0
  for (;;) {
    const quotedEnd = text[at] === '"' ? closingQuote(text, at) : null
    const end = quotedEnd ?? plainEnd(text, at)
    row.push(quotedEnd === null ? text.slice(at, end) : text.slice(at + 1, end - 1).replaceAll('""', '"'))
    if (text[end] === '\t') {
      at = end + 1
      continue
    }
    rows.push(row)
    row = []
    at = end + (text[end] === '\r' && text[end + 1] === '\n' ? 2 : 1)
    if (at >= text.length) return rows
  }
}

const quoted = (cell: string): string =>
  /[\t\n\r]/.test(cell) || cell.startsWith('"') ? `"${cell.replaceAll('"', '""')}"` : cell

/** Clipboard text for rows of cells; `readTabbed` gives the same cells back. */
export const writeTabbed = (rows: readonly (readonly string[])[]): string => {
  // One empty cell would be an empty clipboard, and pasting it would do nothing: its row end is kept.
  if (rows.length === 1 && rows[0]?.length === 1 && rows[0][0] === '') return '\r\n'
  return rows.map((row) => row.map(quoted).join('\t')).join('\r\n')
}

const escaped = (text: string): string =>
  text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll(/\r\n|\r|\n/g, '<br>')

/** The same cells as a marked-up table whose cells are declared text, so that a spreadsheet does not turn 3-4 into a date. */
export const writeMarkup = (rows: readonly (readonly string[])[]): string => {
  const cell = (text: string): string => `<td style="mso-number-format:'\\@'">${escaped(text)}</td>`
  return `<table>${rows.map((row) => `<tr>${row.map(cell).join('')}</tr>`).join('')}</table>`
}
