// What the caller said last, in their own words: the shelf hears it, the call page begins with it.
import { create } from 'zustand'

export const useCallerWords = create<{ readonly words: string }>()(() => ({ words: '' }))
export const heard = (words: string): void => useCallerWords.setState({ words: words.trim() })
