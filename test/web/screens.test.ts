import { describe, expect, it } from 'vitest'
import { stepsOf } from '../../web/view/path.ts'
import {
  address,
  linkedScreens,
  type Route,
  readRoute,
  sceneOf,
  screenNames,
  screens,
} from '../../web/view/screens.ts'

const ANYTHING = { plant: 'a b/c', code: 'mora-tuke', run: 7, lesson: 3, replay: 12 }

/** The screen with some value for each part of its address that varies. */
function routeTo(name: (typeof screenNames)[number]): Route {
  const names = stepsOf(screens[name].path).flatMap((step) => (step.startsWith(':') ? [step.slice(1)] : []))
  return {
    screen: name,
    ...Object.fromEntries(Object.entries(ANYTHING).filter(([key]) => names.includes(key))),
  } as Route
}

describe('the table of screens', () => {
  it.each(screenNames)('leads to %s and back', (name) => {
    expect(readRoute(address(routeTo(name)))).toEqual(routeTo(name))
  })

  it('has no path twice', () => {
    const paths = screenNames.map((name) => screens[name].path.replaceAll(/:\w+/g, ':'))
    expect(new Set(paths).size).toBe(paths.length)
  })

  it('gives every screen in the frame of a plant a scene, without which it would wait for ever', () => {
    const framed = screenNames.filter((name) => screens[name].frame !== 'page')
    expect(framed.filter((name) => !sceneOf(routeTo(name)))).toEqual([])
  })

  it('links among the screens of a plant only what needs no more than the plant, in the bar what needs nothing', () => {
    const varying = (name: (typeof screenNames)[number]) =>
      stepsOf(screens[name].path).filter((step) => step.startsWith(':'))
    const inPlant = linkedScreens('plant')
    expect(inPlant).toEqual(expect.arrayContaining(['trials', 'lessons', 'projector']))
    for (const name of inPlant) expect(varying(name), name).toEqual([':plant'])
    expect(linkedScreens('bar')).toContain('plants')
    expect(linkedScreens('bar').flatMap(varying)).toEqual([])
  })
})

describe('an address', () => {
  it.each([
    ['', { screen: 'plants' }],
    ['#/nowhere', { screen: 'plants' }],
    ['#/health', { screen: 'health' }],
    ['#/sign-in', { screen: 'sign-in' }],
    ['#/set-up', { screen: 'set-up' }],
    ['#/people', { screen: 'people' }],
    ['#/plant/', { screen: 'plants' }],
    ['#/plant/quennerby', { screen: 'plant', plant: 'quennerby' }],
    ['#/plant/quennerby/nothing', { screen: 'plant', plant: 'quennerby' }],
    ['#/plant/%E0%A4%A', { screen: 'plant', plant: '%E0%A4%A' }],
    ['#/plant/a%20b/trials', { screen: 'trials', plant: 'a b' }],
    ['#/plant/mill/trials/7', { screen: 'run', plant: 'mill', run: 7 }],
    ['#/plant/mill/trials/x', { screen: 'trials', plant: 'mill' }],
    ['#/plant/mill/trials/-1', { screen: 'trials', plant: 'mill' }],
    ['#/plant/rig/lessons', { screen: 'lessons', plant: 'rig' }],
    ['#/plant/rig/lessons/3', { screen: 'desk', plant: 'rig', lesson: 3 }],
    ['#/plant/rig/lessons/3/projector', { screen: 'lessonProjector', plant: 'rig', lesson: 3 }],
    ['#/plant/rig/projector', { screen: 'projector', plant: 'rig' }],
    ['#/lesson', { screen: 'phone', code: '' }],
    ['#/lesson/mora-tuke', { screen: 'phone', code: 'mora-tuke' }],
    ['#/replay/2', { screen: 'replay', replay: 2 }],
    ['#/replay/0', { screen: 'plants' }],
  ])('%j leads to its screen', (hash, expected) => {
    expect(readRoute(hash)).toEqual(expected)
  })
})

describe('what a screen watches live', () => {
  it('is the plant, the recording or the lesson of its address', () => {
    expect(sceneOf({ screen: 'run', plant: 'mill', run: 7 })).toBe('mill')
    expect(sceneOf({ screen: 'replay', replay: 2 })).toBe('replay:2')
    expect(sceneOf({ screen: 'lessonProjector', plant: 'mill', lesson: 3 })).toBe('lesson:3')
    expect(sceneOf({ screen: 'health' })).toBeNull()
  })
})
