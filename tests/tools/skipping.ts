// Tests that need something this machine may lack. A skipped test prints why, once.
import { describe, test } from 'vitest'
import type { Lack } from './skipping-reasons.ts'

export * from './skipping-reasons.ts'

const printed = new Set<string>()

const sayOnce = (name: string, why: string) => {
  const line = `Skipped: ${name}: ${why}`
  if (!printed.has(line)) console.log(line)
  printed.add(line)
}

/** describe, or a skipped describe with its reason printed. */
export function describeWith(lack: Lack, name: string, body: () => void): void {
  if (lack === null) {
    describe(name, body)
    return
  }
  sayOnce(name, lack)
  describe.skip(`${name} (${lack})`, body)
}

/** test, or a skipped test with its reason printed. */
export function testWith(lack: Lack, name: string, body: () => void | Promise<void>): void {
  if (lack === null) {
    test(name, body)
    return
  }
  sayOnce(name, lack)
  test.skip(`${name} (${lack})`, body)
}
