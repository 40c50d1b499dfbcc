package checks

// All are the checks written in Go, in the order of the phases that ask them.
var All = []*Check{
	MoldTier,
	LeadPath,
	AsbestosPath,
	Capacity,
	DoorGapStretch,
	WallOpening,
	FanTest,
	CauseExplained,
	AirChanges,
	RetarderSide,
	SurfaceDewPoint,
	EffectiveResistance,
	InstalledResistance,
	VoltageDrop,
	NitrogenTest,
	Evacuation,
	PhotosComplete,
	RackLoad,
	PullDown,
	LogDuration,
	TemperatureInBand,
	HumidityInBand,
	MeanTemperature,
	SpatialSpread,
}
