// What the tests need from the machine besides npm: where it is, and the command that brings it.
import { existsSync } from 'node:fs'
import path from 'node:path'
import { thisMachine, type Machine } from '../../electron/machine.ts'
import { findBrowser } from '../../electron/packaging/browser.ts'

export interface Need {
  readonly name: string
  readonly why: string
  readonly debianPackage: string
  readonly present: (machine: Machine) => boolean
}

const onPath = (program: string) => (machine: Machine) => {
  const ending = machine.platform === 'win32' ? '.exe' : ''
  return (machine.environment['PATH'] ?? '')
    .split(path.delimiter)
    .some((folder) => existsSync(path.join(folder, `${program}${ending}`)))
}

export const needs: readonly Need[] = [
  {
    name: 'a Chromium browser',
    why: 'the screens are driven in it',
    debianPackage: 'chromium',
    present: (machine) => findBrowser(machine) !== null,
  },
  {
    name: 'pdftotext, pdfinfo and pdftoppm',
    why: 'printed pages are read and looked at with them',
    debianPackage: 'poppler-utils',
    present: (machine) => ['pdftotext', 'pdfinfo', 'pdftoppm'].every((program) => onPath(program)(machine)),
  },
  {
    name: 'qpdf',
    why: 'the form of printed files is checked with it',
    debianPackage: 'qpdf',
    present: onPath('qpdf'),
  },
]

/** What this machine lacks. */
export const missingNeeds = (machine: Machine = thisMachine()): readonly Need[] =>
  needs.filter(({ present }) => !present(machine))

/** The command that brings packages on Debian and its relatives. */
export const debianCommand = (packages: readonly string[]): string =>
  `apt-get install -y --no-install-recommends ${packages.join(' ')}`
