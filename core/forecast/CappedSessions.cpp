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
      since_(doneBefore_ + 1) {
    since_.back() = {1.0};
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
    std::vector<double> all;
    for (const std::vector<double> &layer : since_)
        addScaled(all, {0, layer}, 1.0);
    since_.assign(1, all);
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
    const std::size_t layers = weeklyMost_ > 0 ? since_.size() + static_cast<std::size_t>(mostToday) : 1;
    nextSince_.resize(layers);
    for (std::vector<double> &layer : nextSince_)
        layer.clear();
    for (std::size_t layer = 0; layer < since_.size(); ++layer) {
        const std::vector<double> &from = since_[layer];
        if (from.empty())
            continue;
        const std::vector<double> &sessions = sessionsOf(mostAfter(layer, mostToday));
        for (std::size_t k = 0; k < sessions.size(); ++k) {
            std::vector<double> &to = nextSince_[weeklyMost_ > 0 ? layer + k : 0];
            if (to.size() < from.size() + k)
                to.resize(from.size() + k, 0.0);
            for (std::size_t n = 0; n < from.size(); ++n)
                to[n + k] += from[n] * sessions[k];
        }
    }
    while (nextSince_.size() > 1 && nextSince_.back().empty())
        nextSince_.pop_back();
    since_.swap(nextSince_);
}

void CappedSessions::countAfresh() {
    for (std::vector<double> &layer : since_) {
        double sum = 0;
        for (double chance : layer)
            sum += chance;
        if (!layer.empty())
            layer.assign(1, sum);
    }
}

void CappedSessions::addAll(double weight, std::vector<double> &to, std::vector<double> &buffer) const {
    addScaled(to, sumOf({0, before_}, {0, week_}, buffer), weight);
}

void CappedSessions::addSince(double weight, std::vector<double> &to) const {
    for (const std::vector<double> &layer : since_)
        addScaled(to, {0, layer}, weight);
}

} // namespace kitround::forecast
