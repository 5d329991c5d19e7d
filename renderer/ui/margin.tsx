import type { ReactNode } from 'react'

interface Children {
  readonly children: ReactNode
}

export const MarginTitle = ({ children }: Children) => <h2 className="margin-title">{children}</h2>

/** A paragraph of reasons. `waiting`: worked out again, the old text stands greyed. */
export const MarginText = ({ children, waiting }: Children & { readonly waiting?: boolean }) => (
  <p className={waiting === true ? 'margin-text waiting' : 'margin-text'}>{children}</p>
)

/** Where a statement comes from, or what it leaves to the reader. */
export const Citation = ({ children }: Children) => <p className="citation">{children}</p>

export interface MarginFact {
  readonly name: string
  readonly value: ReactNode
  readonly mark?: 'question' | 'stop'
}

export const MarginFacts = ({ facts }: { readonly facts: readonly MarginFact[] }) => (
  <dl className="margin-facts">
    {facts.map((fact) => (
      <div key={fact.name} className={fact.mark}>
        <dt>{fact.name}</dt>
        <dd>{fact.value}</dd>
      </div>
    ))}
  </dl>
)
