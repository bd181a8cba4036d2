/** bucket: volume over time gives discharge. springBalance: force times arm gives torque. */
export type TypedMeans = 'bucket' | 'springBalance'

/** Two readings that make one value; first is volume or force, second time or arm. */
export interface SimpleReading {
  means: TypedMeans
  first: { value: number; unit: string; u?: number }
  second: { value: number; unit: string; u?: number }
}

/** POST /api/plants/:p/runs/:r/points: a point that somebody read and typed. */
export interface ManualPointRequest {
  by: string
  figures: { figure: string; value: number; unit: string; u?: number }[]
  /** The typed values belong to the present steady state: all else is taken from the instruments. */
  isPresent?: boolean
  /** In place of the value of one figure. */
  reading?: { figure: string } & SimpleReading
}
