#include "core/forecast/CappedSessions.h"

#include <algorithm>
#include <cmath>

namespace kitround::forecast {

std::vector<double> cappedPoisson(double mean, int most) {
    std::vector<double> p(static_cast<std::size_t>(most) + 1, 0.0);
    double term = std::exp(-mean), sum = 0;
    for (int k = 0; k < most; ++k) {
        p[static_cast<std::size_t>(k)] = term;
        sum += term;
        term *= mean / (k + 1);
    }
    p.back() = std::max(0.0, 1.0 - sum);
    return p;
}

CappedSessions::CappedSessions(double perDay, int weeklyMost, int doneThisWeek, bool countsSince)
    : perDay_(perDay), weeklyMost_(weeklyMost), countsSince_(countsSince),
      doneBefore_(static_cast<std::size_t>(weeklyMost > 0 ? std::min(doneThisWeek, weeklyMost) : 0)),
      since_(doneBefore_ + 1, 0.0), sinceLayers_(since_.size()) {
    since_.back() = 1.0;
}

const std::vector<double> &CappedSessions::sessionsOf(int most) {
    while (static_cast<int>(sessions_.size()) <= most)
        sessions_.push_back(cappedPoisson(perDay_, static_cast<int>(sessions_.size())));
    return sessions_[static_cast<std::size_t>(most)];
}

void CappedSessions::startWeek() {
    std::vector<double> buffer;
    const RowTable::Row sum = sumOf({0, before_}, {0, week_}, buffer).trimmed();
    before_.assign(sum.least, 0.0);
    before_.insert(before_.end(), sum.p.begin(), sum.p.end());
    week_.assign(1, 1.0);
    doneBefore_ = 0;
    for (std::size_t at = sinceWidth_; at < since_.size(); ++at)
        since_[at % sinceWidth_] += since_[at];
    sinceLayers_ = 1;
    since_.resize(sinceWidth_);
}

int CappedSessions::mostAfter(std::size_t done, int mostToday) const {
    return weeklyMost_ > 0 ? std::min(mostToday, weeklyMost_ - static_cast<int>(done)) : mostToday;
}

void CappedSessions::drainOn(int mostToday) {
    nextWeek_.assign(week_.size() + static_cast<std::size_t>(mostToday), 0.0);
    for (std::size_t n = 0; n < week_.size(); ++n) {
        const std::vector<double> &sessions = sessionsOf(mostAfter(doneBefore_ + n, mostToday));
        for (std::size_t k = 0; k < sessions.size(); ++k)
            nextWeek_[n + k] += week_[n] * sessions[k];
    }
    while (nextWeek_.size() > 1 && nextWeek_.back() == 0.0) // the week's maximum
        nextWeek_.pop_back();
    week_.swap(nextWeek_);
    if (countsSince_)
        drainSince(mostToday);
}

// Without a weekly maximum one layer holds all.
void CappedSessions::drainSince(int mostToday) {
    const auto most = static_cast<std::size_t>(mostToday);
    const std::size_t layers =
        weeklyMost_ > 0 ? std::min(sinceLayers_ + most, static_cast<std::size_t>(weeklyMost_) + 1) : 1;
    const std::size_t width = sinceWidth_ + most;
    nextSince_.assign(layers * width, 0.0);
    for (std::size_t layer = 0; layer < sinceLayers_; ++layer) {
        const double *from = since_.data() + layer * sinceWidth_;
        const std::vector<double> &sessions = sessionsOf(mostAfter(layer, mostToday));
        for (std::size_t k = 0; k < sessions.size(); ++k) {
            double *to = nextSince_.data() + (weeklyMost_ > 0 ? layer + k : 0) * width + k;
            for (std::size_t n = 0; n < sinceWidth_; ++n)
                to[n] += from[n] * sessions[k];
        }
    }
    since_.swap(nextSince_);
    sinceLayers_ = layers;
    sinceWidth_ = width;
}

void CappedSessions::countAfresh() {
    for (std::size_t layer = 0; layer < sinceLayers_; ++layer) {
        double sum = 0;
        for (std::size_t n = 0; n < sinceWidth_; ++n)
            sum += since_[layer * sinceWidth_ + n];
        since_[layer] = sum; // lies before what is still to be summed
    }
    sinceWidth_ = 1;
    since_.resize(sinceLayers_);
}

void CappedSessions::addAll(double weight, std::vector<double> &to) const {
    for (std::size_t n = 0; n < week_.size(); ++n)
        addScaled(to, {n, before_}, weight * week_[n]);
}

void CappedSessions::addSince(double weight, std::vector<double> &to) const {
    for (std::size_t layer = 0; layer < sinceLayers_; ++layer)
        addScaled(to, {0, std::span(since_).subspan(layer * sinceWidth_, sinceWidth_)}, weight);
}

} // namespace kitround::forecast
