#pragma once
// Which visit carries which delivery. Riders with the nearest deadline choose first, each the earliest visit
// of its patient in time with room in that nurse's car that day.
#include "core/rounds/problem/WeekProblem.h"

namespace kitround::rounds {

// What nobody has packed, promised or not, is in no car that is gone; what is packed is in the car for its
// own visit, and on no other one.
inline bool mayRide(const Rider &rider, const Job &job) {
    return rider.packedFor.isSet() ? rider.packedFor == job.visit : !job.hasBegun;
}

class RiderMatcher {
public:
    explicit RiderMatcher(const WeekProblem &problem);
    // By rider: the job that carries it, or -1. `riderJob` is overwritten.
    void assign(const std::vector<Placement> &placements, std::vector<std::int32_t> &riderJob);
    // courierRun per patient with a courier, undelivered per rider that nobody can bring.
    double cost(const std::vector<std::int32_t> &riderJob);

private:
    const WeekProblem &p_;
    std::vector<std::size_t> order_;                // riders, nearest deadline first
    std::vector<std::vector<std::int32_t>> jobsOf_; // by rider: visits of its patient
    std::vector<std::int64_t> used_;                // scratch, by duty
    std::vector<PatientId> byCourier_;              // scratch
};

} // namespace kitround::rounds
