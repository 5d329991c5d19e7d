// Shapes that several topics share.
import { z } from 'zod'

/** A value the core made itself: typed, and only looked at for being there. */
export const told = <Value>() => z.custom<Value>((value) => value !== undefined)
export const id = z.string().min(1).max(64)
