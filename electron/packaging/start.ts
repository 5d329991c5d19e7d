// npm start. Does nothing but join the parts.
import { openProgram } from '../calls/index.ts'
import { thisMachine } from '../machine.ts'
import { buildStaleApart, builtPagesFolder, root } from './build.ts'
import { runElectronInstaller } from './fetch-electron.ts'
import { launch } from './launch.ts'

const exitCode = await launch(process.argv.slice(2), {
  machine: thisMachine(),
  root,
  pagesFolder: builtPagesFolder,
  build: buildStaleApart,
  openProgram: async (options) => openProgram(options),
  installElectron: runElectronInstaller,
  say: (line) => console.log(line),
})
// A browser that is slow to go must not hold this up.
process.exit(exitCode)
