// What both hosts allow, as pure decisions. Knows neither Electron nor a socket, so plain tests hold it.

export const appScheme = 'app'
export const appHost = 'lintelbook'
export const appOrigin = `${appScheme}://${appHost}`
export const askChannel = 'ask'

// The one style react-aria-components writes into the page (how touch pans on pressable things). It changes with
// that package; tests/electron/hosts/content-policy.browser.test.ts says so when it does.
const reactAriaStyle = "'sha256-38RhXrc7EdReTKsOm23ZPOCUgniTUUcjky8QOOrQx6o='"

/** The content policy of every page: nothing from elsewhere, no inline script, no text turned into script. */
export const contentPolicy = [
  "default-src 'none'",
  "script-src 'self'",
  `style-src 'self' ${reactAriaStyle}`,
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
  "object-src 'none'",
  "require-trusted-types-for 'script'",
  "trusted-types 'none'",
].join('; ')

/** Sent with everything, pages and answers alike. */
export const securityHeaders: Readonly<Record<string, string>> = {
  'Content-Security-Policy': contentPolicy,
  'X-Content-Type-Options': 'nosniff',
  'X-Frame-Options': 'DENY',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Permissions-Policy': 'camera=(), microphone=(), geolocation=(), usb=(), serial=(), hid=(), payment=()',
  'Cache-Control': 'no-store',
}

/** The desktop window's preferences; the caller adds only the preload. */
export const windowPreferences = {
  sandbox: true,
  contextIsolation: true,
  nodeIntegration: false,
  nodeIntegrationInWorker: false,
  nodeIntegrationInSubFrames: false,
  webSecurity: true,
  allowRunningInsecureContent: false,
  experimentalFeatures: false,
  webviewTag: false,
  navigateOnDragDrop: false,
  // The dictionaries would be fetched from elsewhere.
  spellcheck: false,
} as const

const parsed = (address: string): URL | null => (URL.canParse(address) ? new URL(address) : null)

/** An address of the program's own window. */
export const isAppAddress = (address: string): boolean => {
  const url = parsed(address)
  return url !== null && url.protocol === `${appScheme}:` && url.host === appHost && url.username === ''
}

/** What the window may load: its own pages, and data it made itself. */
export const mayLoad = (address: string): boolean => {
  const url = parsed(address)
  if (url === null) return false
  return (
    isAppAddress(address) ||
    url.protocol === 'data:' ||
    (url.protocol === 'blob:' && isAppAddress(url.pathname))
  )
}

const outsideProtocols = new Set(['https:', 'mailto:'])

/** Links that are handed to the machine's own browser or mail program. None with a name or password in it. */
export const mayOpenOutside = (address: string): boolean => {
  const url = parsed(address)
  return url !== null && outsideProtocols.has(url.protocol) && url.username === '' && url.password === ''
}

/** As much of a frame as the decision needs. */
export interface SenderFrame {
  readonly url: string
  readonly parent: unknown
}

/** Only the top frame of the program's own page may ask. A frame that is gone is null. */
export const maySend = (frame: SenderFrame | null | undefined): boolean =>
  frame !== null && frame !== undefined && frame.parent === null && isAppAddress(frame.url)

/** What a refused sender hears. It carries no detail. */
export const refusedSender = {
  ok: false,
  problem: { code: 'not-allowed', sentence: 'This window may not ask the program anything.' },
} as const

const jobFileEnding = /\.lintelbook$/i

/** The job file among the words a program was started with: the last that ends in .lintelbook. */
export const jobFileAmong = (words: readonly string[]): string | null =>
  words.findLast((word) => jobFileEnding.test(word) && !word.startsWith('-')) ?? null
