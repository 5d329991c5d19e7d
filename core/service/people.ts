// Who can be asked about an opening: those who proved it, came to it, answered for it, and furnished, fitted or wired it.
import type { JobData, JobRecord, Opening } from '../job/index.ts'

export interface PersonToAsk {
  readonly name: string
  /** What they did here, in few words. */
  readonly about: string
  readonly company: string | null
  readonly phone: string | null
  readonly email: string | null
}

const plain = (words: string): string => words.trim().toLowerCase().replace(/^the /, '')

export function whoToAsk(data: JobData, opening: Opening): PersonToAsk[] {
  const deeds = new Map<string, Set<string>>()
  const note = (name: string | null, about: string): void => {
    if (name === null || name.trim() === '') return
    // "The integrator" and "Integrator" are one.
    const same = [...deeds.keys()].find((each) => plain(each) === plain(name)) ?? name
    const known = deeds.get(same) ?? new Set()
    deeds.set(same, known.add(about))
  }
  for (const each of latestProofs(data, opening))
    note(each.who, `proved it on ${each.at?.slice(0, 10) ?? 'a day not known'}`)
  for (const { who, at, reportedBy } of data.referring('visit', 'openingId', opening.id)) {
    note(who, at === null ? 'is to come' : `came on ${at.slice(0, 10)}`)
    note(reportedBy, 'reported a fault here')
  }
  for (const { who } of data.referring('factAnswer', 'openingId', opening.id))
    note(who, 'answered for this opening')
  for (const { owner, state } of data.referring('finding', 'openingId', opening.id))
    if (state === 'open') note(owner, 'owns an open finding')
  const typical = opening.typicalId === null ? undefined : data.get('typical', opening.typicalId)
  note(opening.furnishedBy ?? typical?.furnishedBy ?? null, 'furnished it')
  note(opening.fittedBy ?? typical?.fittedBy ?? null, 'fitted it')
  note(opening.wiredBy ?? typical?.wiredBy ?? null, 'wired it')
  note(opening.terminatedBy ?? typical?.terminatedBy ?? null, 'terminated it')
  return [...deeds].map(([name, about]) => {
    const contact = contactOf(data, name)
    return {
      name: contact !== undefined && plain(contact.name) !== plain(name) ? `${name}: ${contact.name}` : name,
      about: [...about].join(', '),
      company: contact?.company ?? null,
      phone: contact?.phone ?? null,
      email: contact?.email ?? null,
    }
  })
}

/** The contact of that name, else the first of that company. */
function contactOf(data: JobData, name: string): JobRecord<'contact'> | undefined {
  const contacts = [...data.all('contact')]
  return (
    contacts.find((each) => plain(each.name) === plain(name)) ??
    contacts.find(({ company }) => company !== null && plain(company) === plain(name))
  )
}

/** One proof for each who proved anything here: their latest. */
function latestProofs(data: JobData, opening: Opening): JobRecord<'proof'>[] {
  const found = new Map<string, JobRecord<'proof'>>()
  for (const proof of data.referring('proof', 'openingId', opening.id)) {
    if (proof.who === null || proof.result === 'not done') continue
    const before = found.get(proof.who)
    if (before === undefined || (before.at ?? '') < (proof.at ?? '')) found.set(proof.who, proof)
  }
  return [...found.values()]
}
