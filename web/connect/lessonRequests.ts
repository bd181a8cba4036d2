import type { ExplainReply } from '../../server/wire/explain.ts'
import type {
  ArrangeRequest,
  DeskReply,
  LessonSummary,
  PointName,
  PredictionRequest,
  RecordRequest,
  SeatReply,
  SeatRequest,
} from '../../server/wire/lesson.ts'
import { plantPath, request } from './http.ts'

type Done = { ok: true }

const lessonPath = (lesson: number, rest = '') => `/api/lessons/${lesson}${rest}`

/** The instructor's side. */
export const deskRequests = {
  list: (plant: string) => request<LessonSummary[]>(plantPath(plant, 'lessons')),
  open: (plant: string, title: string) => request<{ lesson: number }>(plantPath(plant, 'lessons'), { title }),
  desk: (lesson: number) => request<DeskReply>(lessonPath(lesson)),
  arrange: (lesson: number, wish: ArrangeRequest) => request<Done>(lessonPath(lesson, '/arrange'), wish),
  freeze: (lesson: number, frozen: boolean) => request<Done>(lessonPath(lesson, '/freeze'), { frozen }),
  ask: (lesson: number, text: string, figure: string) =>
    request<Done>(lessonPath(lesson, '/questions'), { text, figure }),
  closeQuestion: (lesson: number, question: number) =>
    request<Done>(lessonPath(lesson, `/questions/${question}/close`), {}),
  reveal: (lesson: number, question: number, point: PointName | null) =>
    request<Done>(lessonPath(lesson, `/questions/${question}/reveal`), point ? { point } : {}),
  rename: (lesson: number, group: number, name: string) =>
    request<Done>(lessonPath(lesson, `/groups/${group}`), { name }, 'PATCH'),
  remove: (lesson: number, group: number) =>
    request<Done>(lessonPath(lesson, `/groups/${group}`), {}, 'DELETE'),
  openJoining: (lesson: number, isOpen: boolean) => request<Done>(lessonPath(lesson, '/joining'), { isOpen }),
  renewCode: (lesson: number) => request<Done>(lessonPath(lesson, '/code'), {}),
  unstrike: (lesson: number, record: number) =>
    request<Done>(lessonPath(lesson, `/records/${record}/unstrike`), {}),
  end: (lesson: number) => request<Done>(lessonPath(lesson, '/end'), {}),
  explain: (lesson: number, figure: string) =>
    request<ExplainReply>(lessonPath(lesson, `/figures/${encodeURIComponent(figure)}/explain`)),
  packAddress: (lesson: number) => lessonPath(lesson, '/pack'),
}

/** A phone's side: which lesson follows from its seat. */
export const seatRequests = {
  join: (wish: SeatRequest) => request<{ lesson: number; group: number }>('/api/seat', wish),
  leave: () => request<Done>('/api/seat', {}, 'DELETE'),
  view: () => request<SeatReply>('/api/seat'),
  record: (wish: RecordRequest) => request<{ number: number }>('/api/seat/records', wish),
  remark: (record: number, remark: string) => request<Done>(`/api/seat/records/${record}/remark`, { remark }),
  strike: (record: number, reason: string) => request<Done>(`/api/seat/records/${record}/strike`, { reason }),
  predict: (wish: PredictionRequest) => request<Done>('/api/seat/predictions', wish),
  explain: (figure: string) =>
    request<ExplainReply>(`/api/seat/figures/${encodeURIComponent(figure)}/explain`),
  packAddress: '/api/seat/pack',
}
