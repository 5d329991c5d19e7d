// Files that come with the program. The sources and the built program both stand two folders below them.
import path from 'node:path'

const fixtures = path.resolve(import.meta.dirname, '../../fixtures')

/** The invented demo job, as a text twin. */
export const demoTwin = path.join(fixtures, 'demo', 'harrow-street-clinic.json')
/** Generic parts and typicals that a new job starts with. */
export const partsLibrary = path.join(fixtures, 'parts-library', 'parts-library.json')
