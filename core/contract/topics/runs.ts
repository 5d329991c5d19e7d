// Runs, conductors, controllers, points and their loops.

export const runsContract = {} as const
