import type { Action } from '../../server/wire/access.ts'
import { type Parameters, readPath, stepsOf, writePath } from './path.ts'

/** Whose frame a screen stands in: the page's own, that of a plant, that of a recording, or none at all. */
export type FrameKind = 'page' | 'plant' | 'replay' | 'none'

interface ScreenRow<Path extends string, Frame extends FrameKind> {
  /** What stands after "#/". Parts with ":" vary; path.ts reads them. */
  path: Path
  /** In the browser's tab; within a plant's frame the name of the plant follows. */
  title: string
  frame: Frame
  /** Id of what it watches live, where that is not the plant of its address. */
  scene?: (at: Parameters<Path>) => string
  /** What a person must be allowed to do to see it; null: nothing. */
  right: Action | null
  /** Its link: in the bar of the page, or among the screens of a plant. */
  link?: { in: 'bar' | 'plant'; name: string }
}

function screen<const Path extends string, Frame extends FrameKind>(
  row: ScreenRow<Path, Frame>,
): ScreenRow<Path, Frame> {
  return row
}

/** Every screen. Its component stands under the same name in components.tsx. */
export const screens = {
  plants: screen({
    path: '',
    title: 'Plants',
    frame: 'page',
    right: 'read',
    link: { in: 'bar', name: 'Plants' },
  }),
  plant: screen({
    path: 'plant/:plant',
    title: 'Plant',
    frame: 'plant',
    right: 'read',
  }),
  trials: screen({
    path: 'plant/:plant/trials',
    title: 'Trials',
    frame: 'plant',
    right: 'read',
    link: { in: 'plant', name: 'Trials' },
  }),
  run: screen({
    path: 'plant/:plant/trials/:run',
    title: 'Trials',
    frame: 'plant',
    right: 'read',
  }),
  lessons: screen({
    path: 'plant/:plant/lessons',
    title: 'Lessons',
    frame: 'plant',
    right: 'teach',
    link: { in: 'plant', name: 'Lessons' },
  }),
  desk: screen({
    path: 'plant/:plant/lessons/:lesson',
    title: 'Lessons',
    frame: 'plant',
    right: 'teach',
  }),
  projector: screen({
    path: 'plant/:plant/projector',
    title: 'Projector',
    frame: 'none',
    right: 'read',
    link: { in: 'plant', name: 'Projector view' },
  }),
  lessonProjector: screen({
    path: 'plant/:plant/lessons/:lesson/projector',
    title: 'Projector',
    frame: 'none',
    scene: ({ lesson }) => `lesson:${lesson}`,
    right: 'read',
  }),
  replay: screen({
    path: 'replay/:replay',
    title: 'Replay',
    frame: 'replay',
    scene: ({ replay }) => `replay:${replay}`,
    right: 'read',
  }),
  phone: screen({
    path: 'lesson/:code',
    title: 'Lesson',
    frame: 'page',
    right: null,
  }),
  health: screen({
    path: 'health',
    title: 'Health',
    frame: 'page',
    right: 'read',
    link: { in: 'bar', name: 'Health' },
  }),
  reference: screen({
    path: 'reference',
    title: 'Reference',
    frame: 'page',
    right: null,
  }),
  people: screen({
    path: 'people',
    title: 'People',
    frame: 'page',
    right: 'users',
    link: { in: 'bar', name: 'People' },
  }),
  'sign-in': screen({
    path: 'sign-in',
    title: 'Sign in',
    frame: 'page',
    right: null,
  }),
  'set-up': screen({
    path: 'set-up',
    title: 'Set up',
    frame: 'page',
    right: null,
  }),
}

type Screens = typeof screens
export type ScreenName = keyof Screens
export const screenNames = Object.keys(screens) as ScreenName[]

export type ParametersOf<Name extends ScreenName> = Parameters<Screens[Name]['path']>

/** A screen and what its address says. */
export type Route = { [Name in ScreenName]: { screen: Name } & ParametersOf<Name> }[ScreenName]

/** The longest path first, so that a run is not taken for the list of runs. */
const BY_LENGTH = screenNames.toSorted(
  (a, b) => stepsOf(screens[b].path).length - stepsOf(screens[a].path).length,
)

/** "#/plant/quennerby" → its screen. Anything unknown leads to the list of plants. */
export function readRoute(hash: string): Route {
  const parts = hash.split('/').slice(1)
  for (const name of BY_LENGTH) {
    const values = readPath(screens[name].path, parts)
    if (values) return { screen: name, ...values } as Route
  }
  return { screen: 'plants' }
}

/** The way back: the address of a screen, for links. */
export function address(route: Route): string {
  return `#/${writePath(screens[route.screen].path, route)}`
}

/** Id of what the screen watches live; null: nothing, or what the screen itself finds out. */
export function sceneOf(route: Route): string | null {
  const { scene }: ScreenRow<string, FrameKind> = screens[route.screen]
  if (scene) return scene(route)
  return 'plant' in route ? route.plant : null
}

/** Screens with a link there, in their order in the table. */
export function linkedScreens(place: 'bar' | 'plant'): ScreenName[] {
  return screenNames.filter((name) => screens[name].link?.in === place)
}
