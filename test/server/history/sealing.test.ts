import { expect, it } from 'vitest'
import { cutCommits } from '../../../server/history/stores/embedded/sealing.ts'

const commits = (...rows: number[]) => rows.map((count, i) => ({ commit: i + 1, rows: count }))

it('cuts a day before the commit that would exceed the limit of a file', () => {
  expect(cutCommits(commits(3, 3, 3, 3, 3, 3, 3), 7)).toEqual([2, 4, 6])
  expect(cutCommits(commits(3, 4, 7, 1), 7)).toEqual([2, 3])
})

it('never cuts a commit, however large', () => {
  expect(cutCommits(commits(100, 100), 7)).toEqual([1])
  expect(cutCommits(commits(1, 100, 1), 7)).toEqual([1, 2])
})

it('leaves a day in one file that fits, and a day without rows', () => {
  expect(cutCommits(commits(3, 4), 7)).toEqual([])
  expect(cutCommits([], 7)).toEqual([])
})
