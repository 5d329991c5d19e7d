// Starts one of the TypeScript programs, after a look at the runtime. Plain JavaScript with nothing new in it, so that
// an old Node can say what is wrong instead of stumbling over the first type.

// better-sqlite3 13 needs Node-API 10 and crashes without a word below it; running TypeScript unbuilt needs Node 22.18.
const [major, minor] = process.versions.node.split('.').map(Number)
const isTooOld = Number(process.versions.napi) < 10 || major < 22 || (major === 22 && minor < 18)

if (isTooOld) {
  console.error(
    'Lintelbook needs Node 22.18 or newer; this is Node ' +
      process.versions.node +
      '. On Linux, npm ci brings a Node that fits: use npm start, not node, to run it.',
  )
  process.exit(1)
}

const [, , program, ...words] = process.argv
process.argv = [process.execPath, program, ...words]
const { pathToFileURL } = await import('node:url')
await import(pathToFileURL(program).href)
