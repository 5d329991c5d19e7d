import type { PlainFile } from '../../core/exchange/index.ts'
import { readCsv } from './csv-reader.ts'
import { readModel } from './model-reader.ts'
import { MAX_FILE_BYTES, refused } from './problems.ts'
import type { IntakeProblem, Read } from './problems.ts'
import { recognise } from './recognise.ts'
import { readWorkbook, workbookKind } from './workbook-reader.ts'
import { checkZip } from './zip-preflight.ts'
import type { ZipContents } from './zip-preflight.ts'

/** What came of reading a file. */
export type FileResult =
  | { readonly ok: true; readonly file: PlainFile }
  | { readonly ok: false; readonly problem: IntakeProblem }

function readModelFile(name: string, bytes: Uint8Array): Read<PlainFile> {
  const model = readModel(name, bytes)
  return model.ok ? { ok: true, value: { form: 'model', model: model.value } } : model
}

function readPackedModel(name: string, contents: ZipContents): Read<PlainFile> {
  // __MACOSX holds what a Mac packs beside each file.
  const models = [...contents.keys()].filter(
    (part) => /\.ifc$/i.test(part) && !/(^|\/)(__MACOSX\/|\._)/.test(part),
  )
  const only = models[0]
  if (only === undefined) {
    if ([...contents.keys()].some((part) => /\.ifcxml$/i.test(part))) {
      return refused({ code: 'not-a-workbook', name, kind: 'xml-model' })
    }
    if (/\.ifczip$/i.test(name)) return refused({ code: 'no-model-inside', name })
    return refused({ code: 'not-a-workbook', name, kind: 'zip' })
  }
  if (models.length > 1) return refused({ code: 'several-models-inside', name, models })
  const bytes = contents.get(only) ?? new Uint8Array()
  const inside = recognise(bytes)
  if (inside.form === 'empty') return refused({ code: 'empty', name, what: 'model' })
  if (inside.form !== 'model') return refused({ code: 'no-model-inside', name })
  return readModelFile(name, bytes)
}

async function readZip(name: string, bytes: Uint8Array): Promise<Read<PlainFile>> {
  const checked = await checkZip(name, bytes)
  if (!checked.ok) return checked
  const kind = workbookKind(checked.value)
  if (kind === 'workbook') return readWorkbook(name, checked.value)
  if (kind !== null) return refused({ code: 'not-a-workbook', name, kind })
  return readPackedModel(name, checked.value)
}

async function readAny(name: string, bytes: Uint8Array): Promise<Read<PlainFile>> {
  if (bytes.length > MAX_FILE_BYTES)
    return refused({ code: 'too-big', name, limitBytes: MAX_FILE_BYTES, packed: false })
  const found = recognise(bytes)
  switch (found.form) {
    case 'empty':
      return refused({ code: 'empty', name, what: 'file' })
    case 'encrypted':
      return refused({ code: 'encrypted', name })
    case 'foreign':
      return refused({ code: 'not-a-workbook', name, kind: found.kind })
    case 'zip':
      return readZip(name, bytes)
    case 'model':
      return readModelFile(name, bytes)
    case 'text':
      return readCsv(name, bytes)
  }
}

/**
 * Reads a file by what its bytes are, not by its name. Runs in this thread, without limits of time and memory: the
 * program calls `readFileInWorker`; tests and the worker call this.
 */
export async function readFileBytes(name: string, bytes: Uint8Array): Promise<FileResult> {
  const read = await readAny(name, bytes)
  return read.ok ? { ok: true, file: read.value } : read
}
