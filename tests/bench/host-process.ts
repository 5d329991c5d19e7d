// The program as npm start runs it, in a process of its own, so that its memory can be looked at.
import { startLocalHost } from '../../electron/local-host.ts'
import { openProgram } from '../../electron/calls/index.ts'
import { programOptions, thisMachine } from '../../electron/machine.ts'
import { readPages } from '../../electron/pages.ts'

/** What this process says, once it serves. */
export interface HostStarted {
  readonly launchAddress: string
  readonly openMilliseconds: number
}

const [, , jobFile = '', pagesFolder = ''] = process.argv
const started = performance.now()
const program = await openProgram(programOptions(thisMachine(), jobFile))
const host = await startLocalHost({ answer: program.answer, pages: readPages(pagesFolder) })
const openMilliseconds = performance.now() - started
const said: HostStarted = { launchAddress: host.launchAddress, openMilliseconds }
process.send?.(said)
process.once('disconnect', () => {
  void host.close().then(() => program.close())
})
