// The same program served to a browser on this machine. Loopback only; every request is taken for hostile until it has
// shown its Host, Origin, session token and form.
import { randomBytes, timingSafeEqual } from 'node:crypto'
import http from 'node:http'
import type { Answering } from '../core/contract/index.ts'
import { securityHeaders } from './guard.ts'
import type { Pages } from './pages.ts'

export const sessionHeader = 'x-lintelbook-session'
const askPath = '/ask'
const sessionPath = '/session'
const herePath = '/here'
const posted: ReadonlySet<string> = new Set([askPath, sessionPath, herePath])

/** 128 MiB: a large model file as text, with room. */
const bodyBytesAtMost = 128 * 1024 * 1024
/** Exchanging the token and saying "still here" need no more. */
const smallBodyBytesAtMost = 1024
const loopback = '127.0.0.1'

export interface LocalHostOptions {
  readonly answer: Answering
  readonly pages: Pages
  /** 0 takes a free one. */
  readonly port?: number
  /** Ends the host when no page has called for so long. Never, when left out. */
  readonly quietMinutes?: number
  readonly bodyBytesAtMost?: number
  /** Gets errors that should not happen. */
  readonly log?: (error: unknown) => void
}

export interface LocalHost {
  /** `http://127.0.0.1:PORT` */
  readonly origin: string
  /** The address to open, once: its token is exchanged for a session by the first page. */
  readonly launchAddress: string
  readonly close: () => Promise<void>
  /** Settles when the host has ended, asked or quiet. */
  readonly ended: Promise<void>
}

/** A refusal before any call is looked at. */
interface Refusal {
  readonly status: number
  readonly headers?: Readonly<Record<string, string>>
}

// 256 bits from the machine's generator.
const newToken = () => randomBytes(32).toString('base64url')

const sameToken = (given: string, wanted: string): boolean => {
  const [a, b] = [Buffer.from(given), Buffer.from(wanted)]
  return a.length === b.length && timingSafeEqual(a, b)
}

/** The header's value when it was sent exactly once. */
const only = (request: http.IncomingMessage, name: string): string | undefined => {
  const values = request.headersDistinct[name]
  return values?.length === 1 ? values[0] : undefined
}

// Absent in older browsers and other programs, `none` when a person typed the address or a program opened it.
const comesFromElsewhere = (request: http.IncomingMessage, allowed: readonly string[]): boolean => {
  const site = request.headersDistinct['sec-fetch-site']
  return site !== undefined && !(site.length === 1 && allowed.includes(site[0] ?? ''))
}

function refusalOfPage(request: http.IncomingMessage): Refusal | null {
  if (request.method !== 'GET') return { status: 405, headers: { Allow: 'GET' } }
  if (comesFromElsewhere(request, ['none', 'same-origin'])) return { status: 403 }
  return null
}

function refusalOfPost(request: http.IncomingMessage, origin: string, bytesAtMost: number): Refusal | null {
  if (request.method !== 'POST') return { status: 405, headers: { Allow: 'POST' } }
  if (only(request, 'origin') !== origin) return { status: 403 }
  if (comesFromElsewhere(request, ['same-origin'])) return { status: 403 }
  // Anything but this makes a browser ask first, and it is told no.
  if (only(request, 'content-type') !== 'application/json') return { status: 415 }
  if (Number(request.headers['content-length'] ?? 0) > bytesAtMost) return { status: 413 }
  return null
}

/** The body as text, or null as soon as it is longer than it may be. Rejects when the sender goes away. */
function bodyOf(request: http.IncomingMessage, bytesAtMost: number): Promise<string | null> {
  return new Promise((resolve, reject) => {
    const chunks: Buffer[] = []
    let bytes = 0
    request.on('data', (chunk: Buffer) => {
      bytes += chunk.length
      if (bytes <= bytesAtMost) return chunks.push(chunk)
      // The rest is read and dropped until the time for a request is over, so that the sender gets its answer.
      chunks.length = 0
      resolve(null)
    })
    request.on('end', () => resolve(Buffer.concat(chunks).toString('utf8')))
    request.on('error', reject)
  })
}

const parsedJson = (text: string): { readonly value: unknown } | null => {
  try {
    return { value: JSON.parse(text) as unknown }
  } catch {
    return null
  }
}

const launchTokenIn = (value: unknown): string => {
  const given = typeof value === 'object' && value !== null && 'launch' in value ? value.launch : ''
  return typeof given === 'string' ? given : ''
}

/**
 * Serves the pages and answers calls on 127.0.0.1.
 * The launch token works once, for one page, which keeps a session token of its own for as long as it is open.
 */
export async function startLocalHost(options: LocalHostOptions): Promise<LocalHost> {
  const { answer, pages, quietMinutes, log = () => {} } = options
  const launchToken = newToken()
  const sessionToken = newToken()
  let launched = false
  let host = ''
  let origin = ''
  let quietTicks = 0

  const send = (
    response: http.ServerResponse,
    status: number,
    body: string | Uint8Array = '',
    headers: Readonly<Record<string, string>> = {},
  ) => {
    response.writeHead(status, { ...securityHeaders, ...headers })
    response.end(body)
  }

  const refuse = (response: http.ServerResponse, { status, headers }: Refusal) =>
    send(response, status, '', headers)

  const sendJson = (response: http.ServerResponse, value: unknown) =>
    send(response, 200, JSON.stringify(value), { 'Content-Type': 'application/json; charset=utf-8' })

  const servePage = (request: http.IncomingMessage, response: http.ServerResponse, path: string) => {
    const refusal = refusalOfPage(request)
    if (refusal !== null) return refuse(response, refusal)
    const page = pages.get(path)
    if (page === undefined) return send(response, 404)
    send(response, 200, page.bytes, { 'Content-Type': page.type })
  }

  const exchange = (response: http.ServerResponse, value: unknown) => {
    const isRight = sameToken(launchTokenIn(value), launchToken)
    if (!isRight) return refuse(response, { status: 401 })
    if (launched) return refuse(response, { status: 410 })
    launched = true
    sendJson(response, { session: sessionToken })
  }

  async function servePost(request: http.IncomingMessage, response: http.ServerResponse, path: string) {
    const bytesAtMost = path === askPath ? (options.bodyBytesAtMost ?? bodyBytesAtMost) : smallBodyBytesAtMost
    const refusal = refusalOfPost(request, origin, bytesAtMost)
    if (refusal !== null) return refuse(response, refusal)
    // Before the body: a stranger may not make the host hold 128 MiB.
    const needsSession = path !== sessionPath
    if (needsSession && !sameToken(only(request, sessionHeader) ?? '', sessionToken))
      return refuse(response, { status: 401 })
    const text = await bodyOf(request, bytesAtMost)
    if (text === null) return refuse(response, { status: 413 })
    const body = parsedJson(text)
    if (body === null) return refuse(response, { status: 400 })
    if (path === sessionPath) return exchange(response, body.value)
    quietTicks = 0
    sendJson(response, path === herePath ? { ok: true, value: null } : await answer(body.value))
  }

  async function serve(request: http.IncomingMessage, response: http.ServerResponse): Promise<void> {
    // A foreign name that leads here (DNS rebinding) still sends its own name.
    if (only(request, 'host') !== host) return refuse(response, { status: 421 })
    const path = (request.url ?? '').split('?', 1)[0] ?? ''
    if (posted.has(path)) await servePost(request, response, path)
    else servePage(request, response, path)
  }

  const server = http.createServer(
    {
      maxHeaderSize: 8 * 1024,
      headersTimeout: 10_000,
      // For receiving a request; an answer may take as long as it takes.
      requestTimeout: 60_000,
      connectionsCheckingInterval: 5_000,
      keepAliveTimeout: 5_000,
    },
    (request, response) => {
      serve(request, response).catch((error: unknown) => {
        log(error)
        if (!response.headersSent) refuse(response, { status: 500 })
      })
    },
  )
  server.maxConnections = 64

  await new Promise<void>((resolve, reject) => {
    server.once('error', reject)
    server.listen(options.port ?? 0, loopback, () => {
      server.off('error', reject)
      resolve()
    })
  })
  const address = server.address()
  if (address === null || typeof address === 'string') throw new Error('The local host has no port')
  host = `${loopback}:${address.port}`
  origin = `http://${host}`

  const ended = new Promise<void>((resolve) => server.once('close', () => resolve()))
  const close = async () => {
    server.close()
    server.closeAllConnections()
    await ended
  }

  if (quietMinutes !== undefined) {
    // Counted in ticks, so that a machine waking from sleep does not find the time over.
    const ticksAtMost = 10
    const timer = setInterval(
      () => {
        quietTicks += 1
        if (quietTicks > ticksAtMost) void close()
      },
      (quietMinutes * 60_000) / ticksAtMost,
    )
    timer.unref()
    void ended.then(() => clearInterval(timer))
  }

  return { origin, launchAddress: `${origin}/#launch=${launchToken}`, close, ended }
}
