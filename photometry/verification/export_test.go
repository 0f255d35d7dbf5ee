package verification

// LossesOn is what a side loses by the day of the readings.
var LossesOn = lossesOn
