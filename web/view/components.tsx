import type { ComponentType } from 'preact'
import type { Connection } from '../connect/connection.ts'
import type { PlantHold } from '../hold/plantHold.ts'
import { lazily } from './parts/lazily.tsx'
import { PlantScreen } from './plant/plantScreen.tsx'
import { PlantsScreen } from './plants/plantsScreen.tsx'
import type { FrameKind, ParametersOf, ScreenName, screens } from './screens.ts'

/** A screen in the frame of a plant is there only while the plant is known. */
type Given<Frame extends FrameKind> = Frame extends 'plant' | 'replay'
  ? { connection: Connection; hold: PlantHold }
  : { connection: Connection }

/** What each screen is given: the connection, its plant, and what its address says. */
export type ScreenProps<Name extends ScreenName> = Given<(typeof screens)[Name]['frame']> & ParametersOf<Name>

/** The component of each row of screens.ts. All but the first two are fetched when they are first shown. */
export const components: { readonly [Name in ScreenName]: ComponentType<ScreenProps<Name>> } = {
  plants: PlantsScreen,
  plant: PlantScreen,
  trials: lazily(() => import('./trials/trialList.tsx').then((module) => module.TrialList)),
  run: lazily(() => import('./trials/runScreen.tsx').then((module) => module.RunScreen)),
  lessons: lazily(() => import('./lessons/lessonsScreen.tsx').then((module) => module.LessonsScreen)),
  desk: lazily(() => import('./lessons/deskScreen.tsx').then((module) => module.DeskScreen)),
  projector: lazily(() => import('./lessons/projectorScreen.tsx').then((module) => module.ProjectorScreen)),
  lessonProjector: lazily(() =>
    import('./lessons/projectorScreen.tsx').then((module) => module.ProjectorScreen),
  ),
  replay: lazily(() => import('./replay/replayScreen.tsx').then((module) => module.ReplayScreen)),
  phone: lazily(() => import('./lessons/phoneScreen.tsx').then((module) => module.PhoneScreen)),
  health: lazily(() => import('./health/healthScreen.tsx').then((module) => module.HealthScreen)),
  reference: lazily(() => import('./reference/referenceScreen.tsx').then((module) => module.ReferenceScreen)),
  people: lazily(() => import('./access/peopleScreen.tsx').then((module) => module.PeopleScreen)),
  'sign-in': lazily(() => import('./access/signInScreen.tsx').then((module) => module.SignInScreen)),
  'set-up': lazily(() => import('./access/signInScreen.tsx').then((module) => module.SetUpScreen)),
}
