import { expect, test } from 'vitest'
import type { Machine } from '../../electron/machine.ts'
import { debianCommand, missingNeeds } from './needs.ts'

const bare: Machine = { platform: 'win32', environment: { PATH: '' }, personFolder: '/people/bee' }

test('a bare machine lacks everything, and each lack has its package', () => {
  expect(missingNeeds(bare).map(({ debianPackage }) => debianPackage)).toEqual([
    'chromium',
    'poppler-utils',
    'qpdf',
  ])
})

test('the command that brings them is the one for Debian', () => {
  expect(debianCommand(['qpdf', 'chromium'])).toBe('apt-get install -y --no-install-recommends qpdf chromium')
})
