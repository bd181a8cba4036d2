import { testDrills } from '../../support/drilledPlant.ts'

testDrills('ostrelby', { firstOfRejection: 'Over-speed 120 %' })
