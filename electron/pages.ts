// The built renderer as a fixed list, read once. Requests are looked up in it; no path is ever built from a request.
import { readdirSync, readFileSync } from 'node:fs'
import path from 'node:path'

export interface Page {
  readonly bytes: Uint8Array<ArrayBuffer>
  readonly type: string
}

/** By request path, such as `/index.html` and `/assets/x.js`; `/` is the index. */
export type Pages = ReadonlyMap<string, Page>

const types: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ttf': 'font/ttf',
  '.woff2': 'font/woff2',
}

/** Reads every file below the folder. Throws when there is no index.html: the renderer was not built. */
export function readPages(folder: string): Pages {
  const pages = new Map<string, Page>()
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    const type = types[path.extname(entry.name)]
    // Source maps and links are no pages.
    if (!entry.isFile() || type === undefined) continue
    const file = path.join(entry.parentPath, entry.name)
    const requestPath = `/${path.relative(folder, file).split(path.sep).join('/')}`
    pages.set(requestPath, { bytes: new Uint8Array(readFileSync(file)), type })
  }
  const index = pages.get('/index.html')
  if (index === undefined) throw new Error(`There is no index.html in ${folder}`)
  return pages.set('/', index)
}
