// Every way a file can be refused or doubted, and the sentences for people. No other intake file holds such a sentence.

/** Largest file taken in. */
export const MAX_FILE_BYTES = 512 * 1024 * 1024
/** Largest sum of everything packed inside a zip. */
export const MAX_INFLATED_BYTES = 256 * 1024 * 1024
export const MAX_ZIP_ENTRIES = 4096
/** Rows of one file, all sheets together. */
export const MAX_ROWS = 250_000
/** Cells of one file, all sheets together, up to the last filled one of each row. */
export const MAX_CELLS = 6_000_000

/** What a file turned out to be when it is nothing we read. */
export type ForeignKind =
  | 'binary'
  | 'text'
  | 'web-page'
  | 'pdf'
  | 'xml'
  | 'xml-model'
  | 'json'
  | 'zip'
  | 'old-workbook'
  | 'binary-workbook'
  | 'open-document'
  | 'word-document'
  | 'ole'

/** Why a file was refused, with the facts that its sentence needs. */
export type IntakeProblem =
  | { readonly code: 'empty'; readonly name: string; readonly what: 'file' | 'workbook' | 'text' | 'model' }
  | { readonly code: 'too-big'; readonly name: string; readonly limitBytes: number; readonly packed: boolean }
  | { readonly code: 'too-much-memory'; readonly name: string }
  | { readonly code: 'too-slow'; readonly name: string; readonly limitSeconds: number }
  | {
      readonly code: 'too-many-entries'
      readonly name: string
      readonly entries: number
      readonly limit: number
    }
  | {
      readonly code: 'too-many-rows'
      readonly name: string
      readonly sheet: string | null
      readonly limit: number
    }
  | {
      readonly code: 'too-many-cells'
      readonly name: string
      readonly sheet: string | null
      readonly limit: number
    }
  | { readonly code: 'stray-cell'; readonly name: string; readonly sheet: string | null }
  | { readonly code: 'not-a-workbook'; readonly name: string; readonly kind: ForeignKind }
  | { readonly code: 'encrypted'; readonly name: string }
  | { readonly code: 'unsafe-names'; readonly name: string }
  | {
      readonly code: 'damaged'
      readonly name: string
      readonly what: 'zip' | 'workbook' | 'model'
      readonly detail: string
    }
  | {
      readonly code: 'truncated'
      readonly name: string
      readonly what: 'zip' | 'model'
      readonly lastRecord: number | null
    }
  | { readonly code: 'unknown-schema'; readonly name: string; readonly schema: string | null }
  | { readonly code: 'no-model-inside'; readonly name: string }
  | { readonly code: 'several-models-inside'; readonly name: string; readonly models: readonly string[] }

export type IntakeProblemCode = IntakeProblem['code']

/** Long or odd names must not break a sentence. */
function quoted(text: string): string {
  // oxlint-disable-next-line no-control-regex
  const clean = text.replace(/[\u0000-\u001f\u007f]/g, ' ')
  return `"${clean.length > 80 ? `${clean.slice(0, 77)}...` : clean}"`
}

function megabytes(bytes: number): string {
  return `${Math.round(bytes / (1024 * 1024))} MB`
}

function counted(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`
}

const WANTED = 'Expected a workbook (.xlsx), a CSV file or a building model (.ifc, .ifczip).'

function foreignSentence(name: string, kind: ForeignKind): string {
  switch (kind) {
    case 'binary':
      return `${quoted(name)} is not a file that can be read here. ${WANTED}`
    case 'text':
      return `${quoted(name)} is plain text without columns, not a workbook. ${WANTED}`
    case 'web-page':
      return `${quoted(name)} is a web page, not a workbook. Open it in a spreadsheet and save it as .xlsx.`
    case 'pdf':
      return `${quoted(name)} is a PDF. Ask for the schedule as a workbook or CSV file.`
    case 'xml':
      return `${quoted(name)} is an XML file, not a workbook. Open it in a spreadsheet and save it as .xlsx.`
    case 'xml-model':
      return `${quoted(name)} is a building model written as XML. Ask for it as .ifc.`
    case 'json':
      return `${quoted(name)} is a JSON file, not a schedule. ${WANTED}`
    case 'zip':
      return `${quoted(name)} is a zip that holds neither a workbook nor a building model. Unpack it and take in the file inside.`
    case 'old-workbook':
      return `${quoted(name)} is a workbook of the old .xls kind. Open it in a spreadsheet and save it as .xlsx.`
    case 'binary-workbook':
      return `${quoted(name)} is a binary workbook (.xlsb). Open it in a spreadsheet and save it as .xlsx.`
    case 'open-document':
      return `${quoted(name)} is an OpenDocument file. Open it in a spreadsheet and save it as .xlsx.`
    case 'word-document':
      return `${quoted(name)} is a text document, not a workbook. Copy its table into a spreadsheet and save that.`
    case 'ole':
      return `${quoted(name)} is an old Office file, not a workbook. ${WANTED}`
  }
}

/** One short sentence or two: what is wrong with the file, and what to do. */
export function problemSentence(problem: IntakeProblem): string {
  const name = quoted(problem.name)
  switch (problem.code) {
    case 'empty':
      switch (problem.what) {
        case 'file':
          return `${name} is empty.`
        case 'workbook':
          return `${name} is a workbook with nothing in any sheet.`
        case 'text':
          return `${name} holds no filled row.`
        case 'model':
          return `${name} is a building model without a record.`
      }
      break
    case 'too-big':
      return problem.packed
        ? `${name} unpacks to more than ${megabytes(problem.limitBytes)} and was not opened.`
        : `${name} is larger than ${megabytes(problem.limitBytes)} and was not opened.`
    case 'too-much-memory':
      return `${name} needs more memory than reading a file may take, and was given up. Save only the sheets that are needed.`
    case 'too-slow':
      return `${name} was not read within ${counted(problem.limitSeconds, 'second', 'seconds')} and was given up.`
    case 'too-many-entries':
      return `${name} packs ${problem.entries} files; at most ${problem.limit} are opened.`
    case 'too-many-rows':
      return `${problem.sheet === null ? name : `Sheet ${quoted(problem.sheet)} of ${name}`} has more than ${problem.limit} rows. Save only the schedule and try again.`
    case 'too-many-cells':
      return `${problem.sheet === null ? name : `Sheet ${quoted(problem.sheet)} of ${name}`} has more than ${problem.limit} cells. Save only the schedule and try again.`
    case 'stray-cell':
      return `${problem.sheet === null ? name : `Sheet ${quoted(problem.sheet)} of ${name}`} has a cell far outside its table, so it spans too much to read. Delete the rows and columns behind the table and save again.`
    case 'not-a-workbook':
      return foreignSentence(problem.name, problem.kind)
    case 'encrypted':
      return `${name} is protected by a password. Open it, save it without the password and try again.`
    case 'unsafe-names':
      return `${name} packs files under names that point outside it, and was not opened.`
    case 'damaged':
      return `${name} is damaged and cannot be read (${problem.detail}). Ask for it again.`
    case 'truncated':
      return problem.what === 'zip'
        ? `${name} breaks off before its end. Copy or download it again.`
        : `${name} breaks off before its end${problem.lastRecord === null ? '' : ` (after record #${problem.lastRecord})`}, so doors could be missing. Copy or download it again.`
    case 'unknown-schema':
      return problem.schema === null
        ? `${name} does not say which IFC schema it follows. Expected IFC2X3, IFC4 or IFC4X3.`
        : `${name} follows the schema ${quoted(problem.schema)}. Expected IFC2X3, IFC4 or IFC4X3.`
    case 'no-model-inside':
      return `${name} holds no building model (.ifc).`
    case 'several-models-inside':
      return `${name} holds ${problem.models.length} building models (${problem.models.slice(0, 3).map(quoted).join(', ')}). Unpack it and take them in one by one.`
  }
}

/** What was read with doubt. */
export type IntakeDoubt =
  | { readonly code: 'read-as-csv'; readonly name: string }
  | { readonly code: 'guessed-text-coding' }
  | { readonly code: 'open-quote'; readonly row: number }
  | { readonly code: 'many-open-quotes'; readonly row: number }
  | { readonly code: 'hidden-sheet'; readonly sheet: string }
  | {
      readonly code: 'formulas-without-result'
      readonly sheet: string
      readonly count: number
      readonly firstCell: string
    }
  | {
      readonly code: 'error-cells'
      readonly sheet: string
      readonly count: number
      readonly firstCell: string
    }
  | { readonly code: 'no-length-unit' }
  | { readonly code: 'draft-schema'; readonly schema: string }
  | { readonly code: 'bad-escapes'; readonly count: number; readonly firstRecord: number }
  | { readonly code: 'raw-bytes'; readonly count: number; readonly firstRecord: number }
  | { readonly code: 'unreadable-records'; readonly count: number; readonly firstRecord: number }
  | { readonly code: 'repeated-records'; readonly count: number; readonly firstRecord: number }
  | { readonly code: 'repeated-door-ids'; readonly globalIds: readonly string[] }
  | { readonly code: 'door-without-id'; readonly record: number }
  | { readonly code: 'doors-without-storey'; readonly count: number; readonly firstDoor: string }
  | {
      readonly code: 'odd-door-sizes'
      readonly count: number
      readonly firstDoor: string
      readonly firstMillimetres: number
    }
  | { readonly code: 'odd-elevations' }
  | { readonly code: 'unnamed-storeys'; readonly count: number }

function cellsPhrase(count: number, sheet: string, firstCell: string): string {
  return `Sheet ${quoted(sheet)}: ${counted(count, 'cell', 'cells')} (${count === 1 ? '' : 'first '}${firstCell})`
}

function fromRecord(count: number, firstRecord: number): string {
  return count === 1 ? `#${firstRecord}` : `first #${firstRecord}`
}

/** The sentence that goes with a file that was read, but with doubt. */
export function doubtSentence(doubt: IntakeDoubt): string {
  switch (doubt.code) {
    case 'read-as-csv':
      return `${quoted(doubt.name)} is text with columns, not what its name says; it was read as CSV.`
    case 'guessed-text-coding':
      return 'The text is not Unicode; it was read as Western European (Windows-1252). Check accented letters.'
    case 'open-quote':
      return `Row ${doubt.row}: a quotation mark is opened and not closed; this row was read with quotation marks as ordinary characters.`
    case 'many-open-quotes':
      return `Row ${doubt.row} and after: too many quotation marks are opened and not closed; all were read as ordinary characters.`
    case 'hidden-sheet':
      return `Sheet ${quoted(doubt.sheet)} is hidden in the workbook.`
    case 'formulas-without-result':
      return `${cellsPhrase(doubt.count, doubt.sheet, doubt.firstCell)} with a formula and no stored result; read as empty. Open and save the workbook in a spreadsheet.`
    case 'error-cells':
      return `${cellsPhrase(doubt.count, doubt.sheet, doubt.firstCell)} with an error such as #REF!.`
    case 'no-length-unit':
      return 'The model does not say its unit of length, so no size and no elevation was taken.'
    case 'draft-schema':
      return `The model follows ${quoted(doubt.schema)}, a draft that was withdrawn; it was read as IFC4.`
    case 'bad-escapes':
      return `${counted(doubt.count, 'text', 'texts')} (${fromRecord(doubt.count, doubt.firstRecord)}) with a broken character code; kept as written.`
    case 'raw-bytes':
      return `${counted(doubt.count, 'text', 'texts')} (${fromRecord(doubt.count, doubt.firstRecord)}) with accented letters in no declared coding; read as Windows-1252.`
    case 'unreadable-records':
      return `${counted(doubt.count, 'record', 'records')} (${fromRecord(doubt.count, doubt.firstRecord)}) could not be read and ${doubt.count === 1 ? 'was' : 'were'} left out.`
    case 'repeated-records':
      return `${counted(doubt.count, 'record number', 'record numbers')} (${fromRecord(doubt.count, doubt.firstRecord)}) used twice; the first was kept.`
    case 'repeated-door-ids':
      return `${counted(doubt.globalIds.length, 'door id is', 'door ids are')} used by more than one door (first ${quoted(doubt.globalIds[0] ?? '')}).`
    case 'door-without-id':
      return `Door record #${doubt.record} has no GlobalId and was left out.`
    case 'doors-without-storey':
      return `${counted(doubt.count, 'door is', 'doors are')} on no storey (${doubt.count === 1 ? '' : 'first '}${quoted(doubt.firstDoor)}).`
    case 'odd-door-sizes':
      return `${counted(doubt.count, 'door measures', 'doors measure')} less than 0.3 m or more than 10 m (${doubt.count === 1 ? '' : 'first '}${quoted(doubt.firstDoor)}, ${doubt.firstMillimetres} mm). Check the unit of the model.`
    case 'odd-elevations':
      return 'All storeys lie within 0.1 m of each other; the elevations may be in another unit than the model says.'
    case 'unnamed-storeys':
      return `${counted(doubt.count, 'storey has', 'storeys have')} no name and got a numbered one.`
  }
}

/** Either what was read, or why not. */
export type Read<Value> =
  | { readonly ok: true; readonly value: Value }
  | { readonly ok: false; readonly problem: IntakeProblem }

export function refused(problem: IntakeProblem): { readonly ok: false; readonly problem: IntakeProblem } {
  return { ok: false, problem }
}
