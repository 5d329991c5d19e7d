import { strToU8, zipSync } from 'fflate'
import { expect, test } from 'vitest'
import { problemSentence, readFileBytes } from '../../../electron/intake/index.ts'

function zipOf(files: Record<string, string>): Uint8Array {
  return zipSync(Object.fromEntries(Object.entries(files).map(([name, text]) => [name, strToU8(text)])))
}

const TYPES = '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"/>'

// Whatever the name says, the bytes decide.
test.each([
  ['a.xlsx', strToU8('%PDF-1.7'), 'not-a-workbook', 'is a PDF'],
  ['a.csv', Uint8Array.from([0, 1, 2, 3, 0, 5, 9]), 'not-a-workbook', 'is not a file that can be read here'],
  ['a.csv', strToU8('{"job": {"name": "Clinic"}}'), 'not-a-workbook', 'is a JSON file'],
  ['a.xls', strToU8('<?xml version="1.0"?><Workbook/>'), 'not-a-workbook', 'is an XML file'],
  ['a.ifc', strToU8('<?xml version="1.0"?><ifcXML/>'), 'not-a-workbook', 'building model written as XML'],
  ['a.xls', strToU8('  <TABLE><tr><td>1</td></tr></TABLE>'), 'not-a-workbook', 'is a web page'],
  ['a.xlsx', zipOf({ mimetype: 'x', 'content.xml': '<a/>' }), 'not-a-workbook', 'OpenDocument'],
  ['a.xlsx', zipOf({ '[Content_Types].xml': TYPES, 'xl/workbook.bin': 'x' }), 'not-a-workbook', '(.xlsb)'],
  [
    'a.xlsx',
    zipOf({ '[Content_Types].xml': TYPES, 'word/document.xml': '<a/>' }),
    'not-a-workbook',
    'text document',
  ],
  ['a.xlsx', zipOf({ '[Content_Types].xml': TYPES, 'xl/workbook.xml': '<a' }), 'damaged', 'is damaged'],
  ['a.zip', zipOf({ 'photo.jpg': 'x' }), 'not-a-workbook', 'neither a workbook nor a building model'],
  ['a.ifczip', zipOf({ 'photo.jpg': 'x' }), 'no-model-inside', 'holds no building model'],
  ['a.ifczip', zipOf({ 'a.ifc': 'hello' }), 'no-model-inside', 'holds no building model'],
  ['a.ifczip', zipOf({ 'a.ifc': '' }), 'empty', 'without a record'],
  ['a.ifczip', zipOf({ 'a.ifcxml': '<ifcXML/>' }), 'not-a-workbook', 'building model written as XML'],
  ['a.ifc', strToU8('ISO-10303-21;'), 'truncated', 'breaks off before its end'],
  ['a\u0000\n"b.csv', strToU8(' \r\n\t'), 'empty', 'is empty.'],
] as const)('%j: %s', async (name, bytes, code, says) => {
  const result = await readFileBytes(name, bytes)
  if (result.ok) throw new Error('read')
  expect(result.problem.code).toBe(code)
  const sentence = problemSentence(result.problem)
  expect(sentence).toContain(says)
  expect(sentence).not.toMatch(/[\n\u0000]/)
})

test.each([
  ['marks.csv', 'Mark\n101\n102\n', 3],
  ['marks', 'Mark\n101\n', 2],
  ['tabs.pdf', 'a\tb\tc\n1\t2\t3\n4\t5\t6\n', 3],
  ['mac.csv', 'a,b\r1,2\r', 2],
  ['title.csv', 'Doors; all levels, and stairs\n\nMark;Width;Height\n101;0,9;2,1\n102;0,9;2,1\n', 4],
] as const)('%s is read as text with columns', async (name, text, rows) => {
  const result = await readFileBytes(name, strToU8(text))
  if (!result.ok || result.file.form !== 'sheets') throw new Error('not read')
  expect(result.file.sheets[0]?.rows).toHaveLength(rows)
  if (name === 'title.csv')
    expect(result.file.sheets[0]?.rows[2]?.cells.map(({ text: cell }) => cell)).toEqual(['101', '0,9', '2,1'])
})
