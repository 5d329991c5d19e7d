// The local host against hostile requests, spoken by hand so that nothing tidies them on the way.
import http from 'node:http'
import net from 'node:net'
import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest'
import { z } from 'zod'
import { answering, call, done } from '../../../core/contract/call.ts'
import { contentPolicy } from '../../../electron/guard.ts'
import { startLocalHost, type LocalHost } from '../../../electron/local-host.ts'
import type { Pages } from '../../../electron/pages.ts'

const contract = { 'opening.count': call(z.strictObject({ level: z.string().max(40) }), z.int()) }
const unexpectedErrors: unknown[] = []
const answer = answering(
  contract,
  { 'opening.count': ({ level }) => done(level.length) },
  { log: (_name, error) => unexpectedErrors.push(error) },
)

const page = (text: string, type: string) => ({ bytes: new TextEncoder().encode(text), type })
const pages: Pages = new Map([
  ['/', page('<!doctype html><title>Lintelbook</title>', 'text/html; charset=utf-8')],
  ['/index.html', page('<!doctype html><title>Lintelbook</title>', 'text/html; charset=utf-8')],
  ['/assets/a.js', page('1', 'text/javascript; charset=utf-8')],
])

const bodyBytesAtMost = 100_000
const question = JSON.stringify({ call: 'opening.count', input: { level: 'Ground' } })

interface Reply {
  readonly status: number
  readonly headers: http.IncomingHttpHeaders
  readonly body: string
}

interface Asked {
  readonly method?: string
  readonly path?: string
  readonly headers?: Readonly<Record<string, string | string[]>>
  readonly body?: string | Buffer
}

const request = (host: LocalHost, { method = 'POST', path = '/ask', headers = {}, body }: Asked) =>
  new Promise<Reply>((resolve, reject) => {
    const sent = http.request(
      { host: '127.0.0.1', port: new URL(host.origin).port, method, path, headers, agent: false },
      (response) => {
        const chunks: Buffer[] = []
        response.on('data', (chunk: Buffer) => chunks.push(chunk))
        response.on('end', () =>
          resolve({
            status: response.statusCode ?? 0,
            headers: response.headers,
            body: Buffer.concat(chunks).toString('utf8'),
          }),
        )
      },
    )
    sent.on('error', reject)
    sent.end(body)
  })

const launchTokenOf = (host: LocalHost) => new URL(host.launchAddress).hash.replace('#launch=', '')
const json = (host: LocalHost) => ({ origin: host.origin, 'content-type': 'application/json' })

const exchange = (host: LocalHost, launch: unknown = launchTokenOf(host)) =>
  request(host, { path: '/session', headers: json(host), body: JSON.stringify({ launch }) })

/** Sends bytes as they are, and gives what came back until the host hung up. */
const saidByHand = (words: string) =>
  new Promise<string>((resolve) => {
    const socket = net.connect(Number(new URL(host.origin).port), '127.0.0.1', () => socket.write(words))
    let text = ''
    socket.on('data', (chunk) => (text += chunk.toString('latin1')))
    socket.on('error', () => resolve(text))
    socket.on('close', () => resolve(text))
  })

const start = () =>
  startLocalHost({ answer, pages, bodyBytesAtMost, log: (error) => unexpectedErrors.push(error) })

let host: LocalHost
let session = ''
const good = () => ({ ...json(host), 'x-lintelbook-session': session })

beforeAll(async () => {
  host = await start()
  session = (JSON.parse((await exchange(host)).body) as { session: string }).session
})
afterAll(() => host.close())

test('a good request is answered', async () => {
  const reply = await request(host, { headers: good(), body: question })
  expect(reply).toMatchObject({ status: 200, body: '{"ok":true,"value":6}' })
  expect(reply.headers['content-type']).toBe('application/json; charset=utf-8')
})

describe('hostile headers', () => {
  test.each<[string, Record<string, string | string[]>, number]>([
    ['another host name (rebinding)', { host: 'evil.example' }, 421],
    ['localhost by name', { host: 'localhost' }, 421],
    ['right name, wrong port', { host: '127.0.0.1:1' }, 421],
    ['right host with a dot', { host: '127.0.0.1.' }, 421],
    ['another origin', { origin: 'http://evil.example' }, 403],
    ['an origin without address', { origin: 'null' }, 403],
    ['our origin over https', { origin: 'https://127.0.0.1' }, 403],
    ['our origin with a path', { origin: 'http://127.0.0.1/' }, 403],
    ['a fetch from another site', { 'sec-fetch-site': 'cross-site' }, 403],
    ['a fetch from a neighbour', { 'sec-fetch-site': 'same-site' }, 403],
    ['a typed address', { 'sec-fetch-site': 'none' }, 403],
    ['two fetch sites', { 'sec-fetch-site': ['same-origin', 'cross-site'] }, 403],
    ['an empty session', { 'x-lintelbook-session': '' }, 401],
    ['a short session', { 'x-lintelbook-session': 'a' }, 401],
    ['a session of the right length', { 'x-lintelbook-session': 'A'.repeat(43) }, 401],
    ['a form', { 'content-type': 'application/x-www-form-urlencoded' }, 415],
    ['plain text', { 'content-type': 'text/plain' }, 415],
    ['JSON with an addition', { 'content-type': 'application/json; charset=utf-8' }, 415],
  ])('%s', async (_name, headers, status) => {
    const reply = await request(host, { headers: { ...good(), ...headers }, body: question })
    expect(reply.status).toBe(status)
    expect(reply.body).toBe('')
  })

  test.each(['origin', 'content-type', 'x-lintelbook-session'])('%s left out', async (name) => {
    const { [name]: _left, ...headers } = good() as Record<string, string>
    expect((await request(host, { headers, body: question })).status).toBeGreaterThanOrEqual(400)
  })

  test('two sessions, one of them right', async () => {
    const headers = { ...good(), 'x-lintelbook-session': [session, 'other'] }
    expect((await request(host, { headers, body: question })).status).toBe(401)
  })

  test('the launch token is no session', async () => {
    const headers = { ...good(), 'x-lintelbook-session': launchTokenOf(host) }
    expect((await request(host, { headers, body: question })).status).toBe(401)
  })

  test.each(['GET', 'PUT', 'DELETE', 'OPTIONS', 'HEAD', 'PATCH'])('%s asks nothing', async (method) => {
    expect((await request(host, { method, headers: good() })).status).toBe(405)
  })

  test('a browser that asks first gets no permission', async () => {
    const reply = await request(host, {
      method: 'OPTIONS',
      headers: { origin: 'http://evil.example', 'access-control-request-method': 'POST' },
    })
    expect(Object.keys(reply.headers).filter((name) => name.startsWith('access-control'))).toEqual([])
  })
})

describe('hostile bodies', () => {
  test.each([
    ['half an object', '{'],
    ['nothing', ''],
    ['two values', '{}{}'],
    ['bytes', Buffer.from([0, 255, 254])],
  ])('%s is no JSON', async (_name, body) => {
    expect((await request(host, { headers: good(), body })).status).toBe(400)
  })

  test('more than the cap, announced', async () => {
    const body = 'x'.repeat(bodyBytesAtMost + 1)
    expect((await request(host, { headers: good(), body })).status).toBe(413)
  })

  test('more than the cap, in pieces of unknown number', async () => {
    const headers = { ...good(), 'transfer-encoding': 'chunked' }
    const body = Buffer.alloc(bodyBytesAtMost * 5, 'x')
    expect((await request(host, { headers, body })).status).toBe(413)
  })

  test('a stranger is refused before the body is read', async () => {
    const headers = { ...json(host), 'x-lintelbook-session': 'no', 'content-length': '90000' }
    const status = await new Promise<number | undefined>((resolve, reject) => {
      const sent = http.request({
        host: '127.0.0.1',
        port: new URL(host.origin).port,
        method: 'POST',
        path: '/ask',
        headers,
        agent: false,
      })
      sent.on('response', (response) => {
        resolve(response.statusCode)
        sent.destroy()
      })
      sent.on('error', reject)
      // Headers only; the body never comes.
      sent.flushHeaders()
    })
    expect(status).toBe(401)
  })

  test.each(['__proto__', 'constructor', 'toString', 'hasOwnProperty'])('%s is not a call', async (name) => {
    const reply = await request(host, { headers: good(), body: JSON.stringify({ call: name, input: {} }) })
    expect(reply.status).toBe(200)
    expect(JSON.parse(reply.body)).toMatchObject({ ok: false, problem: { code: 'not-a-call' } })
  })

  test('500 values of any form get a refusal, and the host stands', async () => {
    await fc.assert(
      fc.asyncProperty(fc.jsonValue(), async (value) => {
        const body = JSON.stringify({ call: 'opening.count', input: value })
        const response = await fetch(`${host.origin}/ask`, { method: 'POST', headers: { ...good() }, body })
        expect(response.status).toBe(200)
        expect(((await response.json()) as { ok: boolean }).ok).toBe(false)
      }),
      { numRuns: 500 },
    )
    expect(unexpectedErrors).toEqual([])
    expect((await request(host, { headers: good(), body: question })).status).toBe(200)
  })

  test('words that are no HTTP end the connection, not the host', async () => {
    expect(await saidByHand('\0\0nonsense\r\n\r\n')).toMatch(/^HTTP\/1\.1 400/)
    expect((await request(host, { headers: good(), body: question })).status).toBe(200)
  })

  test('two hosts, the first of them right', async () => {
    const { host: own } = new URL(host.origin)
    const reply = await saidByHand(
      `GET / HTTP/1.1\r\nHost: ${own}\r\nHost: evil.example\r\nConnection: close\r\n\r\n`,
    )
    expect(reply).toMatch(/^HTTP\/1\.1 4(00|21)/)
  })

  test('no host at all', async () => {
    expect(await saidByHand('GET / HTTP/1.0\r\n\r\n')).toMatch(/^HTTP\/1\.1 4(00|21)/)
  })
})

describe('somebody else on this machine', () => {
  test('of two who exchange the launch token at once, one gets a session', async () => {
    const fresh = await start()
    const all = await Promise.all([exchange(fresh), exchange(fresh), exchange(fresh)])
    expect(all.map((reply) => reply.status).toSorted((a, b) => a - b)).toEqual([200, 410, 410])
    await fresh.close()
  })

  test('a session of a program that has ended, or of another one, is none here', async () => {
    const other = await start()
    const { session: others } = JSON.parse((await exchange(other)).body) as { session: string }
    await other.close()
    const headers = { ...good(), 'x-lintelbook-session': others }
    expect((await request(host, { headers, body: question })).status).toBe(401)
  })

  test('a page on another port of this machine is a stranger', async () => {
    const headers = { ...good(), origin: 'http://127.0.0.1:1', 'sec-fetch-site': 'same-site' }
    expect((await request(host, { headers, body: question })).status).toBe(403)
  })

  test('a session in the address or in a cookie is none: only a page can send the header', async () => {
    const { 'x-lintelbook-session': _left, ...headers } = good()
    const cookie = { ...headers, cookie: `x-lintelbook-session=${session}` }
    expect((await request(host, { headers: cookie, body: question })).status).toBe(401)
    const path = `/ask?x-lintelbook-session=${session}`
    expect((await request(host, { path, headers, body: question })).status).toBe(401)
    const reply = await request(host, { headers: good(), body: question })
    expect(reply.headers['set-cookie']).toBeUndefined()
  })

  test.each(['/here', '/ask'])('%s without a session', async (path) => {
    expect((await request(host, { path, headers: json(host), body: '{}' })).status).toBe(401)
  })

  test('a refusal says nothing of the job or the program', async () => {
    const reply = await request(host, { headers: json(host), body: question })
    expect(reply.body).toBe('')
    expect(reply.headers['server']).toBeUndefined()
  })
})

describe('requests that are not what they seem', () => {
  const head = () => `POST /ask HTTP/1.1\r\nHost: ${new URL(host.origin).host}\r\nOrigin: ${host.origin}\r\n`

  test.each([
    ['two lengths', 'Content-Length: 2\r\nContent-Length: 40\r\n'],
    ['a length and pieces', 'Content-Length: 2\r\nTransfer-Encoding: chunked\r\n'],
    ['pieces of an unknown kind', 'Transfer-Encoding: chunked, identity\r\n'],
    ['a header without end', `X-Long: ${'x'.repeat(20_000)}\r\n`],
    ['a line break in a header', 'X-A: b\rHost: evil.example\r\n'],
  ])('%s', async (_name, lines) => {
    const reply = await saidByHand(
      `${head()}Content-Type: application/json\r\n${lines}Connection: close\r\n\r\n{}`,
    )
    expect(reply).toMatch(/^HTTP\/1\.1 4\d\d/)
    expect((await request(host, { headers: good(), body: question })).status).toBe(200)
  })

  test('an upgrade to a socket, which no content type guards', async () => {
    const reply = await saidByHand(
      `GET / HTTP/1.1\r\nHost: evil.example\r\nConnection: Upgrade\r\nUpgrade: websocket\r\nSec-WebSocket-Version: 13\r\nSec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==\r\n\r\n`,
    )
    expect(reply).not.toMatch(/^HTTP\/1\.1 101/)
  })

  test('another host in the request line', async () => {
    const reply = await saidByHand(
      `GET http://evil.example/ HTTP/1.1\r\nHost: ${new URL(host.origin).host}\r\nConnection: close\r\n\r\n`,
    )
    expect(reply).toMatch(/^HTTP\/1\.1 404/)
  })
})

describe('the launch token', () => {
  test('works once', async () => {
    const fresh = await start()
    const first = await exchange(fresh)
    expect(first.status).toBe(200)
    expect(JSON.parse(first.body)).toEqual({ session: expect.stringMatching(/^[\w-]{43}$/) })
    expect(first.body).not.toContain(launchTokenOf(fresh))
    expect((await exchange(fresh)).status).toBe(410)
    await fresh.close()
  })

  test('carries 256 bits, new at every start', async () => {
    const others = await Promise.all([start(), start()])
    const tokens = others.map(launchTokenOf)
    expect(tokens.map((token) => Buffer.from(token, 'base64url').length)).toEqual([32, 32])
    expect(tokens[0]).not.toBe(tokens[1])
    await Promise.all(others.map((other) => other.close()))
  })

  test.each([
    ['a wrong one', 'A'.repeat(43)],
    ['none', ''],
    ['a number', 7],
    ['nothing', null],
    ['a list', ['a']],
  ])('%s is refused, and does not use it up', async (_name, launch) => {
    const fresh = await start()
    expect((await exchange(fresh, launch)).status).toBe(401)
    expect((await exchange(fresh)).status).toBe(200)
    await fresh.close()
  })

  test('is not given to a page from elsewhere', async () => {
    const fresh = await start()
    const headers = { ...json(fresh), origin: 'http://evil.example' }
    const body = JSON.stringify({ launch: launchTokenOf(fresh) })
    expect((await request(fresh, { path: '/session', headers, body })).status).toBe(403)
    expect((await exchange(fresh)).status).toBe(200)
    await fresh.close()
  })

  test('needs only a small body', async () => {
    const reply = await request(host, {
      path: '/session',
      headers: json(host),
      body: `"${'x'.repeat(2000)}"`,
    })
    expect(reply.status).toBe(413)
  })
})

describe('pages', () => {
  const get = (path: string, headers: Record<string, string> = {}) =>
    request(host, { method: 'GET', path, headers })

  test('carry the content policy and are kept nowhere', async () => {
    const reply = await get('/')
    expect(reply).toMatchObject({ status: 200, body: expect.stringContaining('Lintelbook') })
    expect(reply.headers).toMatchObject({
      'content-security-policy': contentPolicy,
      'x-content-type-options': 'nosniff',
      'x-frame-options': 'DENY',
      'referrer-policy': 'no-referrer',
      'cross-origin-opener-policy': 'same-origin',
      'cross-origin-resource-policy': 'same-origin',
      'cache-control': 'no-store',
    })
    expect(reply.headers).not.toHaveProperty('x-powered-by')
  })

  test('refusals carry the headers too', async () => {
    expect((await get('/nothing')).headers['content-security-policy']).toBe(contentPolicy)
    expect((await request(host, { body: question })).headers['content-security-policy']).toBe(contentPolicy)
  })

  test.each([
    '/../../package.json',
    '/%2e%2e/%2e%2e/package.json',
    '/..%2f..%2fpackage.json',
    '/assets/..%5c..%5cpackage.json',
    '//etc/passwd',
    '/assets/a.js%00',
    '/assets/',
    '/assets/a.js/',
    '/__proto__',
    '/constructor',
    '/A',
    'http://evil.example/',
    '*',
  ])('%s is not there', async (path) => {
    expect((await get(path)).status).toBe(404)
  })

  test('a query does not change the page', async () => {
    expect((await get('/assets/a.js?../../package.json')).body).toBe('1')
  })

  test.each([
    ['cross-site', 403],
    ['same-site', 403],
    ['same-origin', 200],
    ['none', 200],
  ])('asked for from %s: %i', async (site, status) => {
    expect((await get('/', { 'sec-fetch-site': site })).status).toBe(status)
  })

  test('another host name gets nothing', async () => {
    expect((await get('/', { host: 'evil.example' })).status).toBe(421)
  })

  test('are only read', async () => {
    expect((await request(host, { method: 'POST', path: '/', headers: good() })).status).toBe(405)
  })
})

describe('the end', () => {
  test('comes when asked, at once', async () => {
    const fresh = await start()
    const open = net.connect(Number(new URL(fresh.origin).port), '127.0.0.1')
    open.on('error', () => {})
    await new Promise((resolve) => open.once('connect', resolve))
    await fresh.close()
    await fresh.ended
    await expect(request(fresh, { method: 'GET', path: '/' })).rejects.toThrow(/ECONNREFUSED/)
  })

  test('comes when no page calls, and not while one does', async () => {
    vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] })
    const quiet = await startLocalHost({ answer, pages, quietMinutes: 10 })
    let isOver = false
    void quiet.ended.then(() => (isOver = true))
    const { session: own } = JSON.parse((await exchange(quiet)).body) as { session: string }
    const here = { path: '/here', headers: { ...json(quiet), 'x-lintelbook-session': own }, body: '{}' }
    vi.advanceTimersByTime(9 * 60_000)
    expect((await request(quiet, here)).status).toBe(200)
    vi.advanceTimersByTime(9 * 60_000)
    expect((await request(quiet, here)).status).toBe(200)
    expect(isOver).toBe(false)
    vi.advanceTimersByTime(11 * 60_000)
    vi.useRealTimers()
    await quiet.ended
    expect(isOver).toBe(true)
  })
})

test('an error below the calls is an empty 500', async () => {
  const errors: unknown[] = []
  const failing = await startLocalHost({
    answer: async () => {
      throw new Error('at /secret/path')
    },
    pages,
    log: (error) => errors.push(error),
  })
  const { session: own } = JSON.parse((await exchange(failing)).body) as { session: string }
  const headers = { ...json(failing), 'x-lintelbook-session': own }
  expect(await request(failing, { headers, body: question })).toMatchObject({ status: 500, body: '' })
  expect(errors).toEqual([new Error('at /secret/path')])
  await failing.close()
})

test('a port that is taken is said by its code', async () => {
  const port = Number(new URL(host.origin).port)
  await expect(startLocalHost({ answer, pages, port })).rejects.toMatchObject({ code: 'EADDRINUSE' })
})

test('listens on loopback alone', async () => {
  expect(new URL(host.origin).hostname).toBe('127.0.0.1')
  const port = Number(new URL(host.origin).port)
  // 127.0.0.2 is this machine too; a host on all addresses would answer there.
  await expect(fetch(`http://127.0.0.2:${port}/`)).rejects.toThrow(/fetch failed/)
  await expect(fetch(`http://[::1]:${port}/`)).rejects.toThrow(/fetch failed/)
})
