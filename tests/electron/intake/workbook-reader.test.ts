import { strToU8, zipSync } from 'fflate'
import { expect, test } from 'vitest'
import { readFileBytes } from '../../../electron/intake/index.ts'
import { sheetsOf } from './support.ts'

/** The least that a reader takes for a workbook, around the XML of one sheet. */
function workbookOf(sheetXml: string, more: Readonly<Record<string, string>> = {}): Uint8Array {
  const parts = {
    '[Content_Types].xml': '<Types><Override ContentType="spreadsheetml.sheet.main+xml"/></Types>',
    '_rels/.rels':
      '<Relationships><Relationship Id="r" Type="x/officeDocument" Target="xl/workbook.xml"/></Relationships>',
    'xl/workbook.xml':
      '<workbook xmlns:r="r"><sheets><sheet name="A" sheetId="1" r:id="rId1"/></sheets></workbook>',
    'xl/_rels/workbook.xml.rels':
      '<Relationships><Relationship Id="rId1" Type="x/worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="rId2" Type="x/sharedStrings" Target="sharedStrings.xml"/></Relationships>',
    'xl/worksheets/sheet1.xml': sheetXml,
    ...more,
  }
  return zipSync(Object.fromEntries(Object.entries(parts).map(([name, text]) => [name, strToU8(text)])))
}

async function rowsOf(sheetXml: string): Promise<[number, ...string[]][]> {
  const sheet = sheetsOf(await readFileBytes('w.xlsx', workbookOf(sheetXml)))[0]
  return (sheet?.rows ?? []).map((row) => [row.number, ...row.cells.map((cell) => cell.text)])
}

// Oddities that other writers and other readers were seen to stumble over.
test.each([
  [
    'cells without names',
    '<row><c><v>1</v></c><c><v>2</v></c></row><row><c/><c><v>3</v></c></row>',
    [
      [1, '1', '2'],
      [2, '', '3'],
    ],
  ],
  [
    'inline and rich text',
    '<row r="2"><c r="A2" t="inlineStr"><is><r><t>3</t></r><r><t>-0</t></r></is></c></row>',
    [[2, '3-0']],
  ],
  ['an ISO date', '<row r="1"><c r="A1" t="d"><v>2026-03-04</v></c></row>', [[1, '2026-03-04']]],
  [
    'a far styled blank',
    '<row r="1"><c r="A1"><v>1</v></c></row><row r="1048558"><c r="A1048558" s="1"/></row>',
    [[1, '1']],
  ],
  ['a far blank row', '<row r="1"><c r="A1"><v>1</v></c></row><row r="1048558" spans="1:2"/>', [[1, '1']]],
  [
    'far blanks before a far value',
    '<row r="3"><c r="B3" s="1"/></row><row r="20001"><c r="A20001" s="1"/></row><row r="20002"><c r="A20002" s="1"/><c r="B20002"><v>5</v></c></row>',
    [[20_002, '', '5']],
  ],
  [
    'far blanks among rows without numbers',
    '<row r="20000"><c r="A20000" s="1"/></row><row><c><v>5</v></c></row><row r="20005"><c r="A20005" s="1"/></row>',
    [[20_001, '5']],
  ],
  [
    'a very long number',
    '<row r="1"><c r="A1"><v>12345678901234567890</v></c></row>',
    [[1, '12345678901234600000']],
  ],
] as const)('%s', async (_, rows, expected) => {
  expect(await rowsOf(`<worksheet><sheetData>${rows}</sheetData></worksheet>`)).toEqual(expected)
})

test.each([
  ['the sheet', workbookOf('<worksheet><sheetData><row r="1"><c r="A1"><v>1</v></c></row>')],
  [
    'the shared texts',
    workbookOf('<worksheet><sheetData/></worksheet>', { 'xl/sharedStrings.xml': '<sst><si><t>101</t></si>' }),
  ],
])('half of %s in a sound zip is refused', async (_, bytes) => {
  const result = await readFileBytes('w.xlsx', bytes)
  expect(result).toMatchObject({ ok: false, problem: { code: 'damaged' } })
})
