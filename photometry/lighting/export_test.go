package lighting

// Fits errs if the light of a job would take too long.
var Fits = fits
