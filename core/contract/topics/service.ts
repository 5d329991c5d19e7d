// The call years later: pages for a call and visits.

export const serviceContract = {} as const
