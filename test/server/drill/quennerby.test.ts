import { testDrills } from '../../support/drilledPlant.ts'

testDrills('quennerby', { firstOfRejection: 'Over-speed 120 %' })
