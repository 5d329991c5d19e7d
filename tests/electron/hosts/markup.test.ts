// Text of a job never becomes markup or script: nothing in the window's code turns text into either. The content policy
// would stop it besides (content-policy.browser.test.ts: trusted types, no inline script, no text as code).
import { globSync, readFileSync } from 'node:fs'
import path from 'node:path'
import { expect, test } from 'vitest'
import { contentPolicy } from '../../../electron/guard.ts'
import { root } from '../../tools/tool.ts'

const sinks =
  /dangerouslySetInnerHTML|\.(inner|outer)HTML\b|insertAdjacentHTML|document\.write|\beval\(|new Function\(|srcdoc|createContextualFragment|DOMParser|javascript:/i

test('the window’s code has no way from text to markup', () => {
  const files = globSync('renderer/**/*.{ts,tsx,html}', { cwd: root })
  expect(files.length).toBeGreaterThan(20)
  const found = files.filter((file) =>
    sinks.test(withoutComments(readFileSync(path.join(root, file), 'utf8'))),
  )
  expect(found).toEqual([])
})

const withoutComments = (text: string): string => text.replaceAll(/^\s*(\/\/|\*|\/\*).*$/gm, '')

test.each([
  'a.innerHTML = text',
  '<p dangerouslySetInnerHTML={{ __html: x }} />',
  'eval(text)',
  'href="javascript:x"',
])('the guard bites on %s', (code) => expect(code).toMatch(sinks))

test.each([
  "script-src 'self'",
  "default-src 'none'",
  "trusted-types 'none'",
  "require-trusted-types-for 'script'",
])('the policy says %s', (rule) => expect(contentPolicy.split('; ')).toContain(rule))
