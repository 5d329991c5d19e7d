// Which facts are missing where a circuit's state is not known.
import type { Electrics } from './electrics.ts'
import type { Cause, ContactOf, Fact, Feed, HoldingElement, Input, Order, Path, Question } from './model.ts'
import { contactOf, find, outputOf, type Plan } from './plan.ts'

/** Collects questions in one order, each once. */
export class Questions {
  readonly #found = new Map<string, Question>()

  ask(question: Question): void {
    this.#found.set(JSON.stringify(question), question)
  }

  askOf<T>(fact: Fact<T>): void {
    if (!fact.known) this.ask(fact.question)
  }

  get list(): readonly Question[] {
    return [...this.#found.values()]
  }
}

/** Asks for every missing fact that leaves this element's engagement not known. */
export function askAboutElement(
  plan: Plan,
  electrics: Electrics,
  element: HoldingElement,
  questions: Questions,
): void {
  if (electrics.isEngaged(element) !== 'unknown') return
  const { engaged } = element
  if (engaged.when === 'by hand') questions.askOf(engaged.thrown)
  if (engaged.when !== 'by its feed') return
  questions.askOf(engaged.holdsWhile)
  const walk = walker(plan, electrics, questions)
  walk.feed(engaged.feed, element.name)
  for (const input of engaged.releasedBy) walk.input(input)
}

function walker(plan: Plan, electrics: Electrics, questions: Questions) {
  const inWork = new Set<object>()
  const done = new Set<object>()

  const once = (node: object, thing: string, work: () => void): void => {
    if (inWork.has(node)) questions.ask({ about: 'circuit', thing })
    if (inWork.has(node) || done.has(node)) return
    inWork.add(node)
    work()
    inWork.delete(node)
    done.add(node)
  }

  const feed = (of: Feed, thing: string): void => {
    if (electrics.feeds(of) !== 'unknown') return
    once(of, thing, () => {
      questions.askOf(of.from)
      if (of.from.known) supply(of.from.value)
      path(of.through)
    })
  }

  const supply = (id: string): void => {
    const found = find(plan.supplies, id)
    if (electrics.isLive(found) !== 'unknown') return
    once(found, found.name, () => {
      if (electrics.world.mains === 'lost') questions.askOf(found.batterySeconds)
      for (const each of found.cutBy) input(each)
    })
  }

  const input = (of: Input): void => {
    if (electrics.acts(of) !== 'unknown') return
    questions.askOf(of.actsWhen)
    path(of.of)
  }

  const path = (of: Path): void => {
    if (electrics.conducts(of) !== 'unknown') return
    if (of.form === 'not told') questions.ask(of.question)
    else if (of.form === 'contact') contact(of)
    else for (const each of of.of) path(each)
  }

  const contact = (of: ContactOf): void => {
    if (electrics.isClosed(of) !== 'unknown') return
    const found = contactOf(plan, of)
    const device = find(plan.devices, of.device)
    once(found, device.name, () => {
      if (device.needsPower) {
        feed(device.feed, device.name)
        if (electrics.hasPower(device) !== 'yes')
          for (const { name, withoutPower } of device.contacts)
            if (name === found.name) questions.askOf(withoutPower)
        if (electrics.hasPower(device) === 'no') return
      }
      questions.askOf(found.turnedRound)
      const holding = found.changes.map((change) => ({
        change,
        holds: electrics.holdsCause(device, change.cause),
      }))
      const certain = holding.filter(({ holds }) => holds === 'yes')
      if (certain.length === 0) questions.askOf(found.atRest)
      for (const { change, holds } of holding) {
        if (holds === 'no') continue
        questions.askOf(change.to)
        if (holds === 'unknown') cause(change.cause, device.name)
      }
      const states = new Set(certain.map(({ change }) => (change.to.known ? change.to.value : null)))
      if (states.size > 1) questions.ask({ about: 'conflict', thing: device.name, contact: found.name })
    })
  }

  const cause = (of: Cause, thing: string): void => {
    if (of.on === 'coil fed') feed(of.feed, thing)
    if (of.on !== 'ordered') return
    const controller = find(plan.controllers, of.controller)
    const output = outputOf(plan, of.controller, of.output)
    once(output, output.name, () => {
      if (electrics.isAlive(controller) === 'unknown') feed(controller.feed, controller.name)
      questions.askOf(output.energised)
      for (const each of output.orders) order(each)
    })
  }

  const order = (of: Order): void => {
    if (electrics.isAsked(of) !== 'unknown') return
    if (of.on === 'input') {
      questions.askOf(of.asksWhen)
      contact(of)
    }
    if (of.on !== 'worked') return
    const device = find(plan.devices, of.device)
    if (device.needsPower) feed(device.feed, device.name)
  }

  return { feed, input }
}
