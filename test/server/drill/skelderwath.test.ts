import { testDrills } from '../../support/drilledPlant.ts'

testDrills('skelderwath', { firstOfRejection: 'Grid lost or Over-speed 120 % first' })
