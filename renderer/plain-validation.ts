// Imported first by main.tsx. zod would otherwise try to build its checks from text, which the content policy refuses
// and reports. It asks when a schema is made, so this must run before any of them.
import { config } from 'zod'

config({ jitless: true })
