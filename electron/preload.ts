// Runs in the sandbox beside the page. The page gets one frozen object with one function, and nothing of Electron.
import { contextBridge, ipcRenderer } from 'electron'
import { askChannel } from './guard.ts'

contextBridge.exposeInMainWorld(
  'lintelbook',
  Object.freeze({
    ask: (callName: string, input: unknown): Promise<unknown> =>
      ipcRenderer.invoke(askChannel, { call: callName, input }),
  }),
)
