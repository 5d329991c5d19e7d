#!/usr/bin/env node
// The same program without a window.
import { parseArgs } from 'node:util'
import { programOptions, thisMachine } from './machine.ts'
import { verbs, type ExitCode, type Verb } from './verbs/index.ts'

const usage = `lintelbook VERB ...

${[...verbs].map(([name, verb]) => `  ${name.padEnd(8)}${verb.about}`).join('\n')}

  lintelbook help VERB   how a verb is used, with examples

Exit codes: 0 done, 1 refused, nothing found or not sound, 2 the command was not understood.
Local codes and the authority having jurisdiction decide what a doorway must do; this program supports that review.`

const say = (text: string): void => void process.stdout.write(`${text}\n`)
const complain = (sentence: string): void => void process.stderr.write(`${sentence}\n`)

// A reader such as head may have enough before all is said; that is no fault.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error
  process.exit()
})

/** What the parser of options minds, in one sentence of our own. Its messages name the option in quotes. */
function optionTrouble(verb: string, error: unknown): string {
  const message = error instanceof Error ? error.message : String(error)
  const option = /'(-[^' ]+)/.exec(message)?.[1] ?? 'an option'
  const unknown = error instanceof Error && 'code' in error && error.code === 'ERR_PARSE_ARGS_UNKNOWN_OPTION'
  if (unknown) return `${verb} has no option ${option}.`
  return /argument missing/i.test(message)
    ? `${option} expects a value after it.`
    : `${option} of ${verb} takes no value.`
}

async function runVerb(name: string, verb: Verb, words: readonly string[]): Promise<ExitCode> {
  let parsed
  try {
    parsed = parseArgs({
      args: [...words],
      allowPositionals: true,
      options: { ...verb.options, help: { type: 'boolean', short: 'h' } },
    })
  } catch (error) {
    complain(`${optionTrouble(name, error)} lintelbook help ${name} shows how it is used.`)
    return 2
  }
  if (parsed.values['help'] === true) {
    say(verb.help)
    return 0
  }
  const [least, most] = verb.words
  const count = parsed.positionals.length
  if (count < least || count > most) {
    complain(
      `${name} expects ${least === most ? least : `at least ${least}`} ${most === 1 ? 'file' : 'words'} after it. lintelbook help ${name} shows how it is used.`,
    )
    return 2
  }
  return verb.run({
    positionals: parsed.positionals,
    values: parsed.values as Readonly<Record<string, string | boolean | undefined>>,
    machine: programOptions(thisMachine(), null),
    say,
    complain,
  })
}

async function run(words: readonly string[]): Promise<ExitCode> {
  const [first, ...rest] = words
  if (first === undefined || first === '--help' || first === '-h' || first === 'help') {
    const [about] = rest
    if (about === undefined) {
      say(usage)
      return first === undefined ? 2 : 0
    }
    const asked = verbs.get(about)
    if (asked === undefined) return noVerb(about)
    say(asked.help)
    return 0
  }
  const verb = verbs.get(first)
  return verb === undefined ? noVerb(first) : runVerb(first, verb, rest)
}

function noVerb(name: string): ExitCode {
  complain(`lintelbook has no verb ${name}; it has ${[...verbs.keys()].join(', ')}.`)
  return 2
}

process.exitCode = await run(process.argv.slice(2))
