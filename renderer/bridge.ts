// The only file that touches the window's bridge or the network. Screens ask by name and get an answer; they never see how.
import type { Answer, CallName, Given, LintelbookContract, Out } from '../core/contract/index.ts'

type Name = CallName<LintelbookContract>
type AskRaw = (callName: string, input: unknown) => Promise<unknown>

declare global {
  interface Window {
    /** Put there by the desktop shell's preload; absent in a browser. */
    readonly lintelbook?: { readonly ask: AskRaw }
  }
}

interface Trouble {
  readonly ok: false
  readonly problem: { readonly code: string; readonly sentence: string }
}

const trouble = (code: string, sentence: string): Trouble => ({ ok: false, problem: { code, sentence } })

const startAgain = () =>
  trouble(
    'start-again',
    'This address opens Lintelbook once, and it has been used. Close this page and start Lintelbook again.',
  )
const unreachable = () =>
  trouble('unreachable', 'Lintelbook no longer answers. What was saved is safe. Start Lintelbook again.')
const tooLarge = () => trouble('too-large', 'That is more than Lintelbook takes in at once (128 MiB).')

const sessionHeader = 'x-lintelbook-session'
const sessionKey = 'lintelbook-session'
const stillHereMilliseconds = 60_000

const post = (path: string, session: string | null, body: unknown): Promise<Response> =>
  fetch(path, {
    method: 'POST',
    headers: {
      'content-type': 'application/json',
      ...(session === null ? {} : { [sessionHeader]: session }),
    },
    body: JSON.stringify(body),
    cache: 'no-store',
    redirect: 'error',
  })

/** The launch token leaves the address bar at once, so that neither history nor a copied address carries it. */
function takeLaunchToken(): string | null {
  const token = new URLSearchParams(location.hash.slice(1)).get('launch')
  if (token !== null) history.replaceState(null, '', location.pathname)
  return token
}

async function exchangeToken(launch: string): Promise<string | null> {
  const response = await post('/session', null, { launch })
  if (!response.ok) return null
  const { session } = (await response.json()) as { session: string }
  sessionStorage.setItem(sessionKey, session)
  return session
}

async function openSession(): Promise<string | null> {
  const launch = takeLaunchToken()
  const session = launch === null ? sessionStorage.getItem(sessionKey) : await exchangeToken(launch)
  // The host may end itself when no page is left; this one says that it is still there.
  if (session !== null)
    setInterval(() => void post('/here', session, {}).catch(() => {}), stillHereMilliseconds)
  return session
}

function askHost(): AskRaw {
  const opening = openSession()
  return async (callName, input) => {
    try {
      const session = await opening
      if (session === null) return startAgain()
      const response = await post('/ask', session, { call: callName, input })
      if (response.ok) return await response.json()
      if (response.status === 401) return startAgain()
      return response.status === 413 ? tooLarge() : unreachable()
    } catch {
      return unreachable()
    }
  }
}

const askRaw: AskRaw = window.lintelbook?.ask ?? askHost()

/**
 * Asks the program. Never rejects in use: trouble comes as `{ ok: false, problem }`.
 * Besides the contract's own problems: `start-again`, `unreachable`, `too-large`.
 */
export const ask = <Called extends Name>(
  callName: Called,
  input: Given<LintelbookContract, Called>,
): Promise<Answer<Out<LintelbookContract, Called>>> =>
  askRaw(callName, input) as Promise<Answer<Out<LintelbookContract, Called>>>
