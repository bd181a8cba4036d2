import { accessRoutes } from './accessRoutes.ts'
import { accountRoutes } from './accountRoutes.ts'
import { alarmsRoutes } from './alarmsRoutes.ts'
import { descriptionOf } from './describe.ts'
import { eventsRoutes } from './eventsRoutes.ts'
import { healthRoutes } from './healthRoutes.ts'
import { historyRoutes } from './historyRoutes.ts'
import { lessonsRoutes } from './lessonsRoutes.ts'
import { notificationsRoutes } from './notificationsRoutes.ts'
import { plantsRoutes } from './plantsRoutes.ts'
import { replaysRoutes } from './replaysRoutes.ts'
import type { Route } from './route.ts'
import { seatRoutes } from './seatRoutes.ts'
import { simulatorRoutes } from './simulatorRoutes.ts'
import { trialsRoutes } from './trialsRoutes.ts'
import { usersRoutes } from './usersRoutes.ts'

const RESOURCES: readonly Route[] = [
  ...healthRoutes,
  ...plantsRoutes,
  ...historyRoutes,
  ...alarmsRoutes,
  ...eventsRoutes,
  ...simulatorRoutes,
  ...accessRoutes,
  ...accountRoutes,
  ...usersRoutes,
  ...notificationsRoutes,
  ...trialsRoutes,
  ...replaysRoutes,
  ...lessonsRoutes,
  ...seatRoutes,
]

/** Every route of the HTTP interface. What has no row here is answered to nobody. */
export const ROUTES: readonly Route[] = [...RESOURCES, descriptionOf(RESOURCES)]
