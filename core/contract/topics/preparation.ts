// Where holes go, and in which order things are fitted.

export const preparationContract = {} as const
