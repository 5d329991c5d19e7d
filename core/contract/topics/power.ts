// Volts, loading, batteries and what would put them right.

export const powerContract = {} as const
