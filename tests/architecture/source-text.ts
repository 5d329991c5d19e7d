// Reads TypeScript as text, so that the guards depend on no compiler interface.

const quotes = new Set(["'", '"'])
// A slash after one of these opens a regular expression; after anything else it divides or closes a tag.
const beforeExpression = new Set('(,=:[!&|?{};~+-*%^')
const wordsBeforeExpression = /\b(?:return|typeof|case|in|of|delete|void|throw|new|yield|await)$/

const endOfQuoted = (text: string, start: number): number => {
  const quote = text[start]
  let at = start + 1
  while (at < text.length && text[at] !== quote && text[at] !== '\n') at += text[at] === '\\' ? 2 : 1
  return at + 1
}

const endOfExpression = (text: string, start: number): number => {
  let at = start + 1
  let inClass = false
  while (at < text.length && text[at] !== '\n' && (inClass || text[at] !== '/')) {
    if (text[at] === '[') inClass = true
    if (text[at] === ']') inClass = false
    at += text[at] === '\\' ? 2 : 1
  }
  return at + 1
}

const startsExpression = (kept: string): boolean => {
  const before = kept.trimEnd()
  const last = before.at(-1)
  return last === undefined || beforeExpression.has(last) || wordsBeforeExpression.test(before)
}

/** The code alone: comments go, and with `strings: 'emptied'` the words inside quotes and patterns go too. */
export function codeOf(text: string, strings: 'kept' | 'emptied'): string {
  let kept = ''
  let at = 0
  // Depth of braces inside each open template; the code in `${...}` counts as code.
  const templates: number[] = []
  const keep = (end: number, emptied: string) => {
    kept += strings === 'kept' ? text.slice(at, end) : emptied
    at = end
  }
  const keepTemplateText = () => {
    let end = at
    while (end < text.length && text[end] !== '`' && !text.startsWith('${', end))
      end += text[end] === '\\' ? 2 : 1
    keep(end, '')
    if (text[at] === '`') kept += text[at++]
    else {
      kept += '${'
      at += 2
      templates.push(0)
    }
  }
  while (at < text.length) {
    const character = text[at] ?? ''
    if (text.startsWith('//', at)) {
      const end = text.indexOf('\n', at)
      at = end === -1 ? text.length : end
    } else if (text.startsWith('/*', at)) {
      const end = text.indexOf('*/', at + 2)
      at = end === -1 ? text.length : end + 2
    } else if (quotes.has(character)) keep(endOfQuoted(text, at), character + character)
    else if (character === '/' && startsExpression(kept)) keep(endOfExpression(text, at), '/./')
    else if (character === '`') {
      kept += character
      at += 1
      keepTemplateText()
    } else if (character === '}' && templates.at(-1) === 0) {
      templates.pop()
      kept += character
      at += 1
      keepTemplateText()
    } else {
      const depth = templates.length - 1
      if (depth >= 0 && character === '{') templates[depth] = (templates[depth] ?? 0) + 1
      if (depth >= 0 && character === '}') templates[depth] = (templates[depth] ?? 0) - 1
      kept += character
      at += 1
    }
  }
  return kept
}

const importPatterns = [
  /\b(?:import|export)\b[^'"`;()]*?\bfrom\s*['"]([^'"]+)['"]/g,
  /\bimport\s*['"]([^'"]+)['"]/g,
  /\bimport\s*\(\s*['"]([^'"]+)['"]/g,
]

/** Every module a file names: static, type-only, re-exported and dynamic. */
export function importsOf(text: string): readonly string[] {
  const code = codeOf(text, 'kept')
  return importPatterns.flatMap((pattern) => [...code.matchAll(pattern)].map((found) => found[1] ?? ''))
}
