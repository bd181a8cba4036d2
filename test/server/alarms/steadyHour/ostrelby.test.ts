import { testSteadyHour } from '../../../support/steadyHour.ts'

testSteadyHour('ostrelby')
