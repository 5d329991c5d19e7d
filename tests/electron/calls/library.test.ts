import { cpSync, mkdirSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { describe, expect, test } from 'vitest'
import type { LibraryState } from '../../../core/contract/index.ts'
import { start, temporaryFolder, type Running } from './support.ts'

async function looked({ ask }: Running): Promise<LibraryState> {
  await ask('library.refresh', {})
  for (;;) {
    const state = await ask('library.read', {})
    if (!state.refreshing) return state
    await new Promise((resolve) => setTimeout(resolve, 20))
  }
}

describe('the shelf', () => {
  test('is searched across its job files, and what is found opens for reading only until asked', async () => {
    const home = temporaryFolder()
    const running = await start(home)
    const { ask, schedule } = running
    // The very first start brings the demo job.
    await ask('job.make', { name: 'Ward block' })
    expect(await looked(running)).toMatchObject({ jobs: 2, trouble: null, unread: [] })
    const { found } = await ask('library.search', {
      words: 'the store room door on three will not lock again',
      limit: 5,
    })
    expect(found[0]).toMatchObject({
      jobName: 'Harrow Street Clinic',
      openingId: 'opening-324',
      title: '324',
    })
    await ask('job.open', { path: found[0]?.jobPath ?? '', readOnly: true })
    expect((await schedule()).state.readOnly).toBe('This job is open for reading only.')
    expect((await ask('service.call', { openingId: 'opening-324' })).mark).toBe('324')
    await ask('job.open', { path: found[0]?.jobPath ?? '', readOnly: false })
    expect((await schedule()).state.readOnly).toBeNull()
  })

  test('watches folders that somebody names, also after a start, until they are left out', async () => {
    const home = temporaryFolder()
    const archive = path.join(temporaryFolder(), 'archive')
    mkdirSync(archive)
    const first = await start(home)
    const { path: jobPath } = (await first.schedule()).state
    await first.ask('job.close', {})
    cpSync(jobPath, path.join(archive, 'Old clinic.lintelbook'))
    await first.ask('library.watch', { folder: archive })
    const state = await looked(first)
    expect(state.folders).toMatchObject([
      { path: path.join(home, 'jobs'), chosen: false, jobs: 1 },
      { path: archive, chosen: true, reachable: true, jobs: 1 },
    ])
    await first.close()

    const second = await start(home)
    expect((await looked(second)).folders.map((each) => each.path)).toContain(archive)
    const left = await second.ask('library.unwatch', { folder: archive })
    expect(left.folders.map((each) => each.path)).toEqual([path.join(home, 'jobs')])
    const { found } = await second.ask('library.search', { words: '118', limit: 20 })
    expect(found.every((each) => !each.jobPath.startsWith(archive))).toBe(true)
  })

  test('says which folder is away and which file cannot be read, and takes no half path', async () => {
    const home = temporaryFolder()
    const running = await start(home)
    const away = path.join(home, 'no-such-share')
    await running.ask('library.watch', { folder: away })
    mkdirSync(path.join(home, 'jobs'), { recursive: true })
    writeFileSync(path.join(home, 'jobs', 'broken.lintelbook'), 'not a job')
    const state = await looked(running)
    expect(state.folders.find((each) => each.path === away)).toMatchObject({ reachable: false })
    expect(state.folders.find((each) => each.path === away)?.sentence).toContain('no-such-share')
    expect(state.unread.map((each) => path.basename(each.path))).toEqual(['broken.lintelbook'])
    const file = path.join(home, 'jobs', 'broken.lintelbook')
    expect((await running.refusal('library.watch', { folder: 'jobs' })).sentence).toContain(
      'is no whole path',
    )
    expect((await running.refusal('library.watch', { folder: file })).sentence).toContain('is a file')
  })
})
